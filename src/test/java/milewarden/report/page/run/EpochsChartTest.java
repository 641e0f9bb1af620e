package milewarden.report.page.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import milewarden.accuracy.reference.Epoch;
import milewarden.accuracy.reference.PositionErrors;
import milewarden.report.Digits;
import milewarden.units.UnitChoice;
import org.junit.jupiter.api.Test;

/** Errors against time: nothing large is lost by drawing less, and gaps stay open. */
final class EpochsChartTest {
  private static final Instant START = Instant.parse("2026-03-01T09:00:00Z");
  private static final Digits DIGITS = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);

  private static List<Epoch> epochs(int n, int gapAt, int gapS) {
    List<Epoch> all = new ArrayList<>();
    for (int i = 0; i < n; i++)
      all.add(
          new Epoch(START.plusSeconds(i < gapAt ? i : i + gapS), i == n / 3 ? 30 : 3, i % 2 * 4));
    return all;
  }

  private static EpochsChart chart(List<Epoch> epochs) {
    return EpochsChart.of(epochs, PositionErrors.of(epochs), DIGITS);
  }

  @Test
  void theLargestErrorIsDrawnHoweverManyThereAre() {
    for (int n : new int[] {1, 2, 100, 1200, 1201, 7777}) {
      List<Epoch> epochs = epochs(n, n, 0);
      EpochsChart c = chart(epochs);
      assertThat(c.lines()).hasSize(1);
      List<Double> drawn = c.lines().get(0).valueM();
      assertThat(drawn).as("of %d", n).hasSizeLessThanOrEqualTo(1200);
      assertThat(c.lines().get(0).minute()).hasSameSizeAs(drawn);
      assertThat(c.lines().get(0).words()).hasSameSizeAs(drawn);
      assertThat(drawn.stream().mapToDouble(v -> v).max().orElseThrow())
          .isCloseTo(c.mostM(), within(0.0));
      assertThat(c.minutes()).isCloseTo((n - 1) / 60.0, within(1e-9));
    }
  }

  @Test
  void theLineBreaksAtAGap() {
    EpochsChart c = chart(epochs(600, 200, 60));
    assertThat(c.lines()).hasSize(2);
    assertThat(c.lines().get(1).minute().get(0)).isCloseTo(260 / 60.0, within(1e-9));
  }

  @Test
  void theTableCountsEveryPositionOnce() {
    // 3 and 5 m by turns (a right triangle of 3 and 4): half lie within 4 m, type 7.
    List<EpochsChart.Row> rows = EpochsChart.table(epochs(1000, 1000, 0), DIGITS);
    assertThat(rows).hasSize(10);
    assertThat(rows).allSatisfy(r -> assertThat(r.count()).isEqualTo("100"));
    assertThat(rows.get(0).half()).startsWith("4.00");
    assertThat(rows.get(0).largest()).startsWith("5.00");
  }
}
