package milewarden.review;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.accuracy.Engine;
import milewarden.store.Id.DueId;
import milewarden.store.Tx;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.UnitVariances;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.ArrivalRows;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Firmware;
import milewarden.store.run.LagRows;
import milewarden.store.run.Models;
import milewarden.store.run.Reliabilities;
import milewarden.verdict.ModelHistory;

/** Gathers what the judge is handed of one model. */
final class Histories {
  private Histories() {}

  static ModelHistory of(Tx tx, Models.Model model) {
    // First: where one is damaged, nothing else is read for it, however often it is tried.
    List<Verdicts.OnRecord> verdicts = Verdicts.of(tx, model.id());
    return new ModelHistory(
        model.name(),
        Firmware.releases(tx, model.id()),
        EvidenceRows.of(tx, model.id(), Engine.VERSION),
        verdicts.stream().map(Histories::onRecord).toList(),
        Judgements.looks(tx, model.id()),
        lasting(DueItems.of(tx, model.id()), DueItems.dismissed(tx, model.id())),
        ModelHistory.UnitVariance.pooled(UnitVariances.all(tx)),
        Reliabilities.of(tx, model.id()),
        ArrivalRows.of(tx, model.id()),
        LagRows.of(tx, model.id(), Engine.VERSION));
  }

  /** Items whose cause lasts, each with the moment since when its kind is due without a gap. */
  static List<ModelHistory.OpenDue> lasting(List<DueItems.Due> all, Set<DueId> dismissed) {
    return all.stream()
        .filter(d -> d.closed().isEmpty() || dismissed.contains(d.id()))
        .map(
            d ->
                new ModelHistory.OpenDue(
                    d.item().key(), d.item().kind(), since(d, all), d.closed().isPresent()))
        .toList();
  }

  /** A cause may take the place of another: 2.2 comes before 2.1 was tested. */
  private static Instant since(DueItems.Due item, List<DueItems.Due> all) {
    Instant since = item.raisedAt();
    for (boolean found = true; found; ) {
      Instant from = since;
      Optional<Instant> earlier =
          all.stream()
              .filter(d -> d.item().kind() == item.item().kind() && d.raisedAt().isBefore(from))
              .filter(d -> d.closed().map(c -> !c.at().isBefore(from)).orElse(true))
              .map(DueItems.Due::raisedAt)
              .min(Instant::compareTo);
      found = earlier.isPresent();
      since = earlier.orElse(since);
    }
    return since;
  }

  private static ModelHistory.VerdictOnRecord onRecord(Verdicts.OnRecord v) {
    return new ModelHistory.VerdictOnRecord(
        v.verdict(), v.withdrawn().map(w -> new ModelHistory.Withdrawal(w.at(), w.words())));
  }
}
