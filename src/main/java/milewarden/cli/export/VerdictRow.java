package milewarden.cli.export;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.store.Id.VerdictId;
import milewarden.store.Tx;
import milewarden.store.judged.Verdicts;
import milewarden.verdict.PublishedVerdict;

/**
 * A published verdict as it is exported.
 *
 * @param verdict empty where its record can't be read
 */
record VerdictRow(Verdicts.Line line, Optional<PublishedVerdict> verdict) {
  /** All, the latest first. */
  static List<VerdictRow> all(Tx tx) {
    Map<VerdictId, PublishedVerdict> readable = new HashMap<>();
    Verdicts.readable(tx, new ArrayList<>()).forEach(v -> readable.put(v.id(), v.verdict()));
    return Verdicts.lines(tx).stream()
        .map(l -> new VerdictRow(l, Optional.ofNullable(readable.get(l.id()))))
        .toList();
  }

  /** The model's name when it was published; that of today where it can't be read. */
  String model() {
    return verdict.map(PublishedVerdict::model).orElse(line.modelName());
  }
}
