package milewarden.report.pass;

import java.util.ArrayList;
import java.util.List;
import milewarden.accuracy.Ladder;
import milewarden.accuracy.LadderStep;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.units.LengthRange;

/** The steps of a ladder with their sizes and what they mean. */
public final class LadderWords {
  private LadderWords() {}

  /**
   * A step for a table.
   *
   * @param lowM metres; equal to {@code highM} but for the indication
   * @param size {@code +4.9 m}
   * @param percent {@code +1.2 %} of the reference
   */
  public record Row(
      LadderStep step,
      String name,
      double lowM,
      double highM,
      String size,
      String percent,
      String meaning) {}

  /** The steps that the ladder reaches, in order from the reference to the display. */
  public static List<Row> rows(Ladder ladder, double referenceM, Digits digits) {
    List<Row> rows = new ArrayList<>();
    for (LadderStep step : LadderStep.values())
      step.of(ladder).ifPresent(r -> rows.add(row(step, r, referenceM, digits)));
    return List.copyOf(rows);
  }

  private static Row row(LadderStep step, LengthRange r, double referenceM, Digits digits) {
    double low = 100 * r.lowM() / referenceM;
    double high = 100 * r.highM() / referenceM;
    String percent =
        low == high
            ? digits.percent(low, 2)
            : digits.percent(low, 2) + " to " + digits.percent(high, 2);
    return new Row(
        step,
        Words.of(step),
        r.lowM(),
        r.highM(),
        digits.change(r),
        percent,
        r.lowM() == 0 && r.highM() == 0
            ? "nothing"
            : meaning(step, r.lowM() + r.highM() > 0) + ofOnePass(step));
  }

  /** What must be known of a step that is read from one pass alone. */
  private static String ofOnePass(LadderStep step) {
    return step == LadderStep.ENDS
        ? ", and each end has the error of one fix in it: go by the mean over passes"
        : "";
  }

  /** The sentence beneath a ladder: its largest step and what that means. */
  public static String sentence(Ladder ladder, double referenceM, Digits digits) {
    return LadderStep.largest(ladder)
        .map(step -> row(step, step.of(ladder).orElseThrow(), referenceM, digits))
        .map(
            row ->
                "The largest step is "
                    + row.name()
                    + ", "
                    + row.size()
                    + " ("
                    + row.percent()
                    + "): "
                    + row.meaning()
                    + ".")
        .orElse("Every step is 0: what is shown is the reference.");
  }

  /** What a step of this sign says. */
  public static String meaning(LadderStep step, boolean longer) {
    return switch (step) {
      // Never above 0: a horizontal length is not longer than the slope over it.
      case SLOPE -> "a horizontal track cannot see the slope that a wheel rolls along";
      case ENDS ->
          longer
              ? "the recording begins early, ends late, or drifts while standing on a mark"
              : "the recording starts late or stops early";
      case LINE ->
          "the drawn line and the measured length disagree, which is the course's fault and not the"
              + " device's";
      case BACKTRACK ->
          "the track runs backwards along the course, from noise at low speed or standing still";
      // Never below 0: a hypotenuse is not shorter than its leg.
      case WEAVE -> "the track wanders from side to side, so noise makes it longer than the course";
      case BEND ->
          longer
              ? "the track runs outside of the measured line in bends"
              : "the track cuts the bends, by smoothing or by the line that was taken";
      case CHORD ->
          longer
              ? "a rest of small terms that no other step explains"
              : "straight steps cut across the curves, as a long recording interval does";
      case SOURCE ->
          longer
              ? "the device counts more than its positions say, from a filter, speed, steps or height"
              : "the device counts less than its positions say, from a filter, speed or steps";
      case INDICATION -> "the display rounds or cuts off, converts units, or refreshes late";
    };
  }
}
