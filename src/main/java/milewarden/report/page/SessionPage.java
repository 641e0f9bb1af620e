package milewarden.report.page;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Errors;
import milewarden.accuracy.PooledError;
import milewarden.report.Digits;

/**
 * How did they do side by side? All devices of an outing.
 *
 * @param pooled each unit with more than one pass that counts, all its passes as one way
 */
public record SessionPage(
    String name, String sentence, String when, List<Row> rows, List<Pooled> pooled) {
  public SessionPage {
    rows = List.copyOf(rows);
    pooled = List.copyOf(pooled);
  }

  /** A unit's passes as one way. */
  public record Pooled(
      String unit, String passes, String reference, String shown, String recorded, String track) {}

  /**
   * A pass that counts.
   *
   * @param track whether its track counts, too
   */
  public record Counted(String unit, String firmware, Distances distances, boolean track) {}

  /** A pass of a device. */
  public record Row(
      String unit,
      String model,
      String modelLink,
      String firmware,
      String course,
      String pass,
      String link,
      String reference,
      String shown,
      String shownError,
      String recorded,
      String recordedError,
      String track,
      String trackError,
      String remark,
      boolean counts) {}

  /** Whose pass a row is. */
  public record Who(
      String unit,
      String model,
      String modelLink,
      String firmware,
      String course,
      String pass,
      String link) {}

  /** The page of an outing. */
  public static SessionPage of(
      String name, String when, int runs, List<Row> rows, List<Counted> counted, Digits digits) {
    long units = rows.stream().map(Row::unit).distinct().count();
    return new SessionPage(
        name,
        digits.counted(units, "unit")
            + ", "
            + digits.counted(runs, "run")
            + ", "
            + (rows.size() == 1 ? "1 pass" : digits.count(rows.size()) + " passes")
            + " side by side.",
        when,
        rows,
        pooled(counted, digits));
  }

  private static List<Pooled> pooled(List<Counted> counted, Digits digits) {
    Map<String, List<Counted>> units = new LinkedHashMap<>();
    for (Counted c : counted)
      units.computeIfAbsent(c.unit() + ", " + c.firmware(), u -> new ArrayList<>()).add(c);
    List<Pooled> all = new ArrayList<>();
    units.forEach(
        (unit, passes) -> {
          if (passes.size() > 1) all.add(pooled(unit, passes, digits));
        });
    return all;
  }

  private static Pooled pooled(String unit, List<Counted> passes, Digits digits) {
    List<Distances> all = passes.stream().map(Counted::distances).toList();
    List<Distances> tracks =
        passes.stream().filter(Counted::track).map(Counted::distances).toList();
    return new Pooled(
        unit,
        digits.count(passes.size()),
        digits.ground(all.stream().mapToDouble(Distances::referenceM).sum()),
        pooled(PooledError.shown(all), passes.size(), digits),
        pooled(PooledError.recorded(all), passes.size(), digits),
        pooled(PooledError.track(tracks), passes.size(), digits));
  }

  private static String pooled(Optional<PooledError> error, int passes, Digits digits) {
    return error
        .map(
            e ->
                (e.percent().low() == e.percent().high()
                        ? digits.percent(e.percent().low(), 2)
                        : digits.interval(e.percent()))
                    + (e.passes() < passes ? " (" + digits.count(e.passes()) + " of them)" : ""))
        .orElse("none");
  }

  /** A measured pass on one line. */
  public static Row row(
      Who who, Distances d, Errors e, String remark, boolean counts, Digits digits) {
    return new Row(
        who.unit(),
        who.model(),
        who.modelLink(),
        who.firmware(),
        who.course(),
        who.pass(),
        who.link(),
        digits.ground(d.referenceM()),
        length(d.shownAsReadM(), "not read", digits),
        percent(e.shownAsReadPercent(), digits),
        length(d.recordedM(), "not recorded", digits),
        percent(e.recordedPercent(), digits),
        e.trackPercent().isPresent() ? digits.ground(d.trackM()) : "no track",
        percent(e.trackPercent(), digits),
        remark,
        counts);
  }

  private static String length(OptionalDouble metres, String missing, Digits digits) {
    return metres.isPresent() ? digits.ground(metres.getAsDouble()) : missing;
  }

  private static String percent(OptionalDouble percent, Digits digits) {
    return percent.isPresent() ? digits.percent(percent.getAsDouble(), 2) : "";
  }
}
