package milewarden.report;

import java.util.List;

/**
 * A mean and its interval drawn small against limits: positions in a box 160 wide and 24 high, zero
 * in the middle.
 *
 * @param limitsX ticks of the limits, left to right
 * @param words the same in words, for those who don't see it
 */
public record Strip(
    double lowX, double widthX, double meanX, List<Double> limitsX, String lozenge, String words) {
  private static final double WIDTH = 160;
  private static final double MIDDLE = WIDTH / 2;
  // Room for half a lozenge at either end.
  private static final double MARGIN = 8;

  public Strip {
    limitsX = List.copyOf(limitsX);
  }

  /**
   * @param scalePercent the error at either end of the strip, above 0
   * @param limitsPercent sizes of limits, drawn on both sides
   */
  public static Strip of(
      double meanPercent,
      double lowPercent,
      double highPercent,
      double scalePercent,
      List<Double> limitsPercent,
      String words) {
    double low = x(lowPercent, scalePercent);
    double high = x(highPercent, scalePercent);
    double mean = x(meanPercent, scalePercent);
    List<Double> ticks =
        limitsPercent.stream()
            .filter(l -> l <= scalePercent)
            .flatMap(l -> List.of(x(-l, scalePercent), x(l, scalePercent)).stream())
            .sorted()
            .toList();
    return new Strip(low, Math.max(1, high - low), mean, ticks, lozenge(mean), words);
  }

  private static String lozenge(double x) {
    return String.format(
        java.util.Locale.ROOT, "%.1f,12 %.1f,6 %.1f,12 %.1f,18", x - 5, x, x + 5, x);
  }

  private static double x(double percent, double scale) {
    double cut = Math.max(-scale, Math.min(scale, percent));
    return Math.round(10 * (MIDDLE + cut / scale * (MIDDLE - MARGIN))) / 10.0;
  }
}
