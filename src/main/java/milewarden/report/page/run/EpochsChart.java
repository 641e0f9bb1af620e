package milewarden.report.page.run;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import milewarden.accuracy.reference.Epoch;
import milewarden.accuracy.reference.PositionErrors;
import milewarden.report.Digits;

/**
 * The horizontal error of every position against time, with the radii that hold half of them and 95
 * % of them.
 *
 * @param minutes from the first position compared to the last
 * @param mostM the largest error, metres
 * @param lines without a break each
 */
public record EpochsChart(double minutes, double mostM, List<Level> levels, List<Line> lines) {
  // More dots than a wide screen has places.
  private static final int MOST_POINTS = 1200;
  private static final double MS_PER_MINUTE = 60_000;
  // The share of ENGINE section 6: a step longer than 3 median intervals is a gap.
  private static final double GAP_INTERVALS = 3;
  private static final int PARTS = 10;

  public EpochsChart {
    levels = List.copyOf(levels);
    lines = List.copyOf(lines);
  }

  /** A radius, drawn across. */
  public record Level(String name, double valueM, String words) {}

  /** Errors without a gap between them, by columns: each at a time, the largest of a group. */
  public record Line(List<Double> minute, List<Double> valueM, List<String> words) {
    public Line {
      minute = List.copyOf(minute);
      valueM = List.copyOf(valueM);
      words = List.copyOf(words);
    }

    private static Line of(Instant start, List<Epoch> largest, Digits digits) {
      return new Line(
          largest.stream().map(e -> minutes(start, e.at())).toList(),
          largest.stream().map(Epoch::horizontalM).toList(),
          largest.stream()
              .map(e -> digits.moment(e.at()) + "\n" + digits.ground(e.horizontalM(), 2))
              .toList());
    }
  }

  /** The errors of a tenth of the time. */
  public record Row(String time, String count, String half, String most, String largest) {}

  /**
   * @param epochs one or more, in order of time
   */
  static EpochsChart of(List<Epoch> epochs, PositionErrors errors, Digits digits) {
    Instant start = epochs.get(0).at();
    int group = group(epochs.size());
    long gapMs = gapMs(epochs);
    List<Line> lines = new ArrayList<>();
    List<Epoch> line = new ArrayList<>();
    int i = 0;
    while (i < epochs.size()) {
      Epoch largest = epochs.get(i);
      int in = 1;
      while (in < group && i + in < epochs.size() && !apart(epochs, i + in, gapMs)) {
        if (epochs.get(i + in).horizontalM() > largest.horizontalM()) largest = epochs.get(i + in);
        in++;
      }
      i += in;
      line.add(largest);
      if (i < epochs.size() && !apart(epochs, i, gapMs)) continue;
      lines.add(Line.of(start, line, digits));
      line = new ArrayList<>();
    }
    return new EpochsChart(
        minutes(start, epochs.get(epochs.size() - 1).at()),
        errors.largestM(),
        List.of(
            level("CEP50", errors.cep50M(), "half of the positions lie within ", digits),
            level("R95", errors.r95M(), "95 % of the positions lie within ", digits)),
        lines);
  }

  /** How many positions one dot stands for. */
  static int group(int positions) {
    return (positions + MOST_POINTS - 1) / MOST_POINTS;
  }

  /** The same in figures, by tenths of the time; tenths without a position are left out. */
  static List<Row> table(List<Epoch> epochs, Digits digits) {
    Instant start = epochs.get(0).at();
    double all = minutes(start, epochs.get(epochs.size() - 1).at());
    List<List<Epoch>> parts = new ArrayList<>();
    for (int p = 0; p < PARTS; p++) parts.add(new ArrayList<>());
    for (Epoch e : epochs) {
      double share = all > 0 ? minutes(start, e.at()) / all : 0;
      parts.get(Math.min(PARTS - 1, (int) (PARTS * share))).add(e);
    }
    List<Row> rows = new ArrayList<>();
    for (int p = 0; p < PARTS; p++) {
      if (parts.get(p).isEmpty()) continue;
      PositionErrors of = PositionErrors.of(parts.get(p));
      rows.add(
          new Row(
              time(all * p / PARTS, digits) + " to " + time(all * (p + 1) / PARTS, digits),
              digits.count(of.epochs()),
              digits.ground(of.cep50M(), 2),
              digits.ground(of.r95M(), 2),
              digits.ground(of.largestM(), 2)));
    }
    return rows;
  }

  private static boolean apart(List<Epoch> epochs, int i, long gapMs) {
    return Duration.between(epochs.get(i - 1).at(), epochs.get(i).at()).toMillis() > gapMs;
  }

  private static long gapMs(List<Epoch> epochs) {
    long[] steps = new long[epochs.size() - 1];
    for (int i = 0; i < steps.length; i++)
      steps[i] = Duration.between(epochs.get(i).at(), epochs.get(i + 1).at()).toMillis();
    Arrays.sort(steps);
    return steps.length == 0 ? 0 : (long) (GAP_INTERVALS * steps[steps.length / 2]);
  }

  private static Level level(String name, double m, String words, Digits digits) {
    return new Level(name, m, words + digits.ground(m, 2));
  }

  private static double minutes(Instant from, Instant to) {
    return Duration.between(from, to).toMillis() / MS_PER_MINUTE;
  }

  private static String time(double minutes, Digits digits) {
    return digits.duration(Duration.ofMillis((long) (minutes * MS_PER_MINUTE)));
  }
}
