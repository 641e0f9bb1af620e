package milewarden.report.mail;

import java.util.List;
import java.util.Locale;

/**
 * A mean and its interval against a limit, in characters: {@code -1 ....[==+==]|... +1}. A stroke
 * marks a limit, brackets the interval, a plus the mean; what lies beyond the scale ends in an
 * arrow.
 */
final class StripText {
  private static final int MIDDLE = 15;
  private static final int WIDTH = 2 * MIDDLE + 1;

  private StripText() {}

  /** The smallest scale of the series 1, 2, 3, 5, 10 ... that holds every value; percent. */
  static int scale(List<Double> percents) {
    double most = percents.stream().mapToDouble(Math::abs).max().orElse(1);
    for (int power = 1; power < 1_000_000; power *= 10)
      for (int step : List.of(1, 2, 3, 5)) if (most <= step * power) return step * power;
    return 1_000_000;
  }

  static String of(double low, double mean, double high, double limit, int scale) {
    StringBuilder cells = new StringBuilder(".".repeat(WIDTH));
    if (limit < scale) {
      cells.setCharAt(cell(-limit, scale), '|');
      cells.setCharAt(cell(limit, scale), '|');
    }
    int from = cell(low, scale);
    int to = cell(high, scale);
    for (int i = from; i <= to; i++) cells.setCharAt(i, '=');
    cells.setCharAt(from, low < -scale ? '<' : '[');
    cells.setCharAt(to, high > scale ? '>' : ']');
    cells.setCharAt(cell(mean, scale), '+');
    return String.format(Locale.ROOT, "%5s %s %s", "-" + scale, cells, "+" + scale);
  }

  private static int cell(double percent, int scale) {
    double cut = Math.max(-scale, Math.min(scale, percent));
    return MIDDLE + (int) Math.round(cut / scale * MIDDLE);
  }
}
