package milewarden.store.run;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.store.Id.ModelId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.Unreadable;
import milewarden.verdict.SmoothingLag;

/**
 * The lag of smoothing that a model's own passes show, from the fingerprints beside each result.
 */
public final class LagRows {
  private static final String OF_MODEL =
      """
      select res.id, res.detail
        from run r
        join unit u on u.id = r.unit_id
      """
          + Counting.RESULTS
          + """
       where u.model_id = :model and not u.control and r.held_for is null
         and res.detail is not null""";

  private LagRows() {}

  /** Of a pass's detail, what is wanted here. */
  private record Detail(List<Fingerprint> fingerprints) {}

  private record Shown(long result, Optional<SmoothingLag> lag) {}

  /**
   * By result; without passes whose bends told nothing, or no upper end, or whose detail is
   * damaged.
   */
  public static Map<Long, SmoothingLag> of(Tx tx, ModelId model, String engineVersion) {
    Map<Long, SmoothingLag> found = new HashMap<>();
    List<Shown> all =
        tx.query(OF_MODEL)
            .bind("model", model)
            .bind("engine", engineVersion)
            .map(Row.as(r -> new Shown(r.number("id"), lag(r.text("detail")))))
            .list();
    for (Shown s : all) s.lag().ifPresent(lag -> found.put(s.result(), lag));
    return found;
  }

  private static Optional<SmoothingLag> lag(String detail) {
    List<Fingerprint> prints;
    try {
      prints = Json.read(detail, Detail.class).fingerprints();
    } catch (Unreadable e) {
      // Its distances count all the same, and the run's page says what is damaged.
      return Optional.empty();
    }
    // Results of earlier engines have none.
    if (prints == null) return Optional.empty();
    return prints.stream()
        .filter(f -> f.kind() == Fingerprint.Kind.SMOOTHING_LAG)
        .filter(f -> f.value().isPresent() && f.high().isPresent())
        .findFirst()
        .map(
            f ->
                new SmoothingLag(
                    f.value().getAsDouble(),
                    Math.max(0, f.low().orElse(0)),
                    f.high().getAsDouble()));
  }
}
