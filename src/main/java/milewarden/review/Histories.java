package milewarden.review;

import milewarden.accuracy.Engine;
import milewarden.store.DueItems;
import milewarden.store.EvidenceRows;
import milewarden.store.Firmware;
import milewarden.store.Judgements;
import milewarden.store.Models;
import milewarden.store.Reliabilities;
import milewarden.store.Tx;
import milewarden.store.UnitVariances;
import milewarden.store.Verdicts;
import milewarden.verdict.ModelHistory;

/** Gathers what the judge is handed of one model. */
final class Histories {
  private Histories() {}

  static ModelHistory of(Tx tx, Models.Model model) {
    return new ModelHistory(
        model.name(),
        Firmware.releases(tx, model.id()),
        EvidenceRows.of(tx, model.id(), Engine.VERSION),
        Verdicts.of(tx, model.id()).stream().map(Histories::onRecord).toList(),
        Judgements.looks(tx, model.id()),
        DueItems.open(tx, model.id()).stream()
            .map(d -> new ModelHistory.OpenDue(d.item().key(), d.item().kind(), d.raisedAt()))
            .toList(),
        ModelHistory.UnitVariance.pooled(UnitVariances.all(tx)),
        Reliabilities.of(tx, model.id()));
  }

  private static ModelHistory.VerdictOnRecord onRecord(Verdicts.OnRecord v) {
    return new ModelHistory.VerdictOnRecord(
        v.verdict(), v.withdrawn().map(w -> new ModelHistory.Withdrawal(w.at(), w.words())));
  }
}
