package milewarden.report.page.course;

import java.util.List;
import milewarden.course.LineCheck;
import milewarden.report.Digits;

/**
 * The drawn line against the measured length.
 *
 * @param whole how they agree as a whole
 * @param sentence the same, and where they part
 */
public record StretchRows(String whole, String sentence, List<Row> rows) {
  public StretchRows {
    rows = List.copyOf(rows);
  }

  /** A stretch between two marks. */
  public record Row(String name, String measured, String drawn, String apart) {}

  public static StretchRows of(LineCheck check, Digits digits) {
    String whole =
        "The drawn line is "
            + digits.ground(check.drawnM())
            + " long on the ground, "
            + digits.percent(check.apartPercent(), 2)
            + " against the "
            + digits.ground(check.measuredM())
            + " measured.";
    String where =
        check
            .worst()
            .map(
                w ->
                    " They part most between "
                        + w.from()
                        + " and "
                        + w.to()
                        + ", by "
                        + digits.change(w.apartM())
                        + ".")
            .orElse(" Control points with their chainage would tell where they part.");
    return new StretchRows(
        whole,
        whole + where,
        check.stretches().stream()
            .map(
                s ->
                    new Row(
                        s.from() + " to " + s.to(),
                        digits.ground(s.measuredM()),
                        digits.ground(s.drawnM()),
                        digits.change(s.apartM()) + ", " + digits.percent(s.apartPercent(), 2)))
            .toList());
  }
}
