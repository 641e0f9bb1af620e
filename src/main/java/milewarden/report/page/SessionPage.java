package milewarden.report.page;

import java.util.List;
import java.util.OptionalDouble;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Errors;
import milewarden.report.Digits;

/** How did they do side by side? All devices of an outing. */
public record SessionPage(String name, String sentence, String when, List<Row> rows) {
  public SessionPage {
    rows = List.copyOf(rows);
  }

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
  public static SessionPage of(String name, String when, int runs, List<Row> rows, Digits digits) {
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
        rows);
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
