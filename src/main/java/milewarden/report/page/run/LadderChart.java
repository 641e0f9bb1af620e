package milewarden.report.page.run;

import java.util.ArrayList;
import java.util.List;
import milewarden.accuracy.Distances;
import milewarden.accuracy.LadderStep;
import milewarden.accuracy.PassMeasurement;
import milewarden.report.Digits;
import milewarden.report.pass.LadderWords;

/**
 * The ladder as a waterfall: metres from the reference, step by step, to the last distance known.
 *
 * @param end metres from the reference at which the ladder ends
 */
public record LadderChart(
    String startName,
    String startAmount,
    String endName,
    String endAmount,
    double end,
    List<Step> steps) {
  public LadderChart {
    steps = List.copyOf(steps);
  }

  /**
   * A floating step.
   *
   * @param from level at which it begins
   * @param low and {@code high}: where it ends, equal but for an interval
   */
  public record Step(
      String name,
      double from,
      double low,
      double high,
      boolean interval,
      String size,
      String percent,
      String meaning,
      String words) {}

  /** What the last distance is, to stand behind 'the distance'. */
  String endWords() {
    return endName.equals("track") ? "along the track" : endName;
  }

  /** The ladder of a measured pass. */
  public static LadderChart of(PassMeasurement pass, Digits digits) {
    Distances d = pass.distances();
    List<Step> steps = new ArrayList<>();
    double level = 0;
    for (LadderWords.Row row : LadderWords.rows(pass.ladder(), d.referenceM(), digits)) {
      steps.add(step(row, level));
      level += (row.lowM() + row.highM()) / 2;
    }
    return new LadderChart(
        "reference",
        digits.ground(d.referenceM()),
        endName(d),
        digits.ground(endM(d)),
        endM(d) - d.referenceM(),
        steps);
  }

  private static Step step(LadderWords.Row row, double level) {
    return new Step(
        row.name(),
        level,
        level + row.lowM(),
        level + row.highM(),
        row.step() == LadderStep.INDICATION,
        row.size(),
        row.percent(),
        row.meaning(),
        row.name() + "\n" + row.size() + ", " + row.percent() + "\n" + row.meaning());
  }

  private static String endName(Distances d) {
    return d.shownAsReadM().isPresent()
        ? "shown"
        : d.recordedM().isPresent() ? "recorded" : "track";
  }

  private static double endM(Distances d) {
    return d.shownAsReadM().orElse(d.recordedM().orElse(d.trackM()));
  }
}
