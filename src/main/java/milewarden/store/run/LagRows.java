package milewarden.store.run;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.store.Id.ModelId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.SmoothingLag;

/**
 * The lag of smoothing that a model's own passes show, from the fingerprints beside each result.
 */
public final class LagRows {
  private static final String OF_MODEL =
      """
      select res.id, res.lag_s, res.lag_low_s, res.lag_high_s
        from run r
        join unit u on u.id = r.unit_id
      """
          + Counting.RESULTS
          + """
       where u.model_id = :model and not u.control and r.held_for is null
         and res.lag_s is not null""";

  private LagRows() {}

  /** By result; without passes whose bends told nothing, or no upper end. */
  public static Map<Long, SmoothingLag> of(Tx tx, ModelId model, String engineVersion) {
    Map<Long, SmoothingLag> found = new HashMap<>();
    tx.query(OF_MODEL)
        .bind("model", model)
        .bind("engine", engineVersion)
        .map(
            Row.as(
                r ->
                    found.put(
                        r.number("id"),
                        new SmoothingLag(
                            r.real("lag_s"), r.real("lag_low_s"), r.real("lag_high_s")))))
        .list();
    return found;
  }

  /** What is kept of a pass's fingerprints. */
  static Optional<SmoothingLag> of(List<Fingerprint> fingerprints) {
    return fingerprints.stream()
        .filter(f -> f.kind() == Fingerprint.Kind.SMOOTHING_LAG)
        .filter(f -> f.value().isPresent() && f.high().isPresent())
        .findFirst()
        .map(
            f -> {
              // A recording is kept whatever its interval is: it holds the estimate at least.
              double seconds = Math.max(0, f.value().getAsDouble());
              double low = Math.min(seconds, Math.max(0, f.low().orElse(0)));
              return new SmoothingLag(seconds, low, Math.max(seconds, f.high().getAsDouble()));
            });
  }
}
