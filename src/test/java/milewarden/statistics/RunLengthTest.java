package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalInt;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/**
 * How long a chart runs until it signals, against Montgomery, Introduction to Statistical Quality
 * Control, chapter 9. The product watches by cumulative sums alone; the exponentially weighted mean
 * and the limits of three sigma stand here so that the counting itself is held against charts that
 * are not ours.
 */
final class RunLengthTest {
  /** Which value of a series signals first. */
  private interface Chart {
    OptionalInt signalAt(double[] z);
  }

  private static final Map<String, Chart> CHARTS =
      Map.of(
          "cusum k=0.5 h=4", z -> Cusum.of(z, 0.5, 4).signalAt(),
          "cusum k=0.5 h=5", z -> Cusum.of(z, 0.5, 5).signalAt(),
          "ewma lambda=0.2 L=2.962", z -> weighted(z, 0.2, 2.962),
          "ewma lambda=0.1 L=2.814", z -> weighted(z, 0.1, 2.814),
          "shewhart 3 sigma", z -> weighted(z, 1, 3));

  @Test
  void theAverageRunLengthsAreThoseOfTheTextbook() {
    Map<String, Integer> read = new HashMap<>();
    for (Map<String, String> row : Published.rows("charts/arl_tables.csv")) {
      String name = row.get("chart") + " " + row.get("parameters");
      Chart chart = Objects.requireNonNull(CHARTS.get(name), name);
      double shift = Published.number(row, "shift_sigma");
      Sample lengths = runLengths(chart, shift, shift < 0.5 ? 1_000 : 2_000);
      double printed = Published.number(row, "arl_textbook");
      // Four standard errors, and half of the last digit that is printed.
      double error = 4 * lengths.sd() / Math.sqrt(lengths.n());
      assertThat(lengths.mean())
          .as(row.toString())
          .isCloseTo(printed, within(error + halfDigit(row.get("arl_textbook"))));
      // The same by a Markov chain, to three digits more.
      assertThat(lengths.mean())
          .as(row.toString())
          .isCloseTo(Published.number(row, "arl_recomputed_markov"), within(error + 0.005));
      read.merge(name, 1, Integer::sum);
    }
    assertThat(read)
        .containsOnlyKeys(CHARTS.keySet())
        .containsEntry("shewhart 3 sigma", 2)
        .containsEntry("ewma lambda=0.2 L=2.962", 10)
        .containsEntry("ewma lambda=0.1 L=2.814", 10)
        .containsEntry("cusum k=0.5 h=4", 10)
        .containsEntry("cusum k=0.5 h=5", 10);
  }

  @Test
  void theWeightedMeansOfTheHandbookAreRecomputed() {
    // NIST/SEMATECH e-Handbook 6.3.2.4: lambda 0.3 from 50, s 2.0539; printed to two digits, the
    // limits to four, by a factor rounded to 0.4201.
    List<Map<String, String>> rows = Published.rows("charts/nist_ewma_6_3_2_4.csv");
    double[] x = rows.stream().mapToDouble(r -> Published.number(r, "x")).toArray();
    double[] means = means(x, 0.3, 50);
    assertThat(means).hasSize(20);
    for (int i = 0; i < x.length; i++) {
      double printed = Published.number(rows.get(i), "ewma_printed");
      assertThat(means[i]).isCloseTo(printed, within(0.005 + 1e-9));
    }
    double limit = 3 * 2.0539 * spread(0.3);
    assertThat(50 + limit).isCloseTo(52.5884, within(1e-4));
    assertThat(50 - limit).isCloseTo(47.4115, within(1e-4));
    double[] z = Arrays.stream(x).map(v -> (v - 50) / 2.0539).toArray();
    assertThat(weighted(z, 0.3, 3)).as("no signal, as the handbook says").isEmpty();
  }

  private static Sample runLengths(Chart chart, double shift, int runs) {
    SplittableRandom random = new SplittableRandom(11);
    double[] lengths = new double[runs];
    for (int run = 0; run < runs; run++) {
      double[] x = {};
      OptionalInt signal = OptionalInt.empty();
      // A chart of the same values and more of them, until it signals.
      while (signal.isEmpty()) {
        int known = x.length;
        x = Arrays.copyOf(x, Math.max(16, 2 * known));
        for (int i = known; i < x.length; i++) x[i] = random.nextGaussian() + shift;
        signal = chart.signalAt(x);
      }
      lengths[run] = signal.getAsInt() + 1;
    }
    return Sample.of(lengths);
  }

  /** The weighted mean against its limits for a long series, both as the handbook has them. */
  private static OptionalInt weighted(double[] z, double lambda, double limits) {
    double[] means = means(z, lambda, 0);
    double limit = limits * spread(lambda);
    for (int i = 0; i < z.length; i++) if (Math.abs(means[i]) > limit) return OptionalInt.of(i);
    return OptionalInt.empty();
  }

  private static double[] means(double[] x, double lambda, double first) {
    double[] means = new double[x.length];
    double mean = first;
    for (int i = 0; i < x.length; i++) {
      mean = lambda * x[i] + (1 - lambda) * mean;
      means[i] = mean;
    }
    return means;
  }

  /** Of the weighted mean, as a share of that of the values. */
  private static double spread(double lambda) {
    return Math.sqrt(lambda / (2 - lambda));
  }

  private static double halfDigit(@Nullable String printed) {
    String text = Objects.requireNonNull(printed);
    int point = text.indexOf('.');
    return 0.5 * Math.pow(10, point < 0 ? 0 : point + 1.0 - text.length());
  }
}
