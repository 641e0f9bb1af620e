package milewarden.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

final class MedianPolishTest {
  // Deaths from sport parachuting by experience and year: Velleman and Hoaglin (1981), ABC of EDA,
  // p. 224; the example of R's help page of medpolish.
  private static final double[][] DEATHS = {
    {14, 15, 14}, {7, 4, 7}, {8, 2, 10}, {15, 9, 10}, {0, 2, 0}
  };

  /**
   * R's algorithm written down in another language gave these (two rounds, sum of absolute
   * residuals 19); they are what R's help page is remembered to print.
   */
  @Test
  void theParachutistsAgreeWithR() {
    MedianPolish fit = of(DEATHS);
    assertThat(fit.overall()).isEqualTo(8);
    assertThat(fit.effects().get(0)).containsExactly(6, -1, 0, 2, -8);
    assertThat(fit.effects().get(1)).containsExactly(0, -1, 0);
    assertThat(fit.residuals()).containsExactly(0, 2, 0, 0, -2, 0, 0, -5, 2, 5, 0, 0, 0, 3, 0);
  }

  private static MedianPolish of(double[][] table) {
    int rows = table.length;
    int columns = table[0].length;
    double[] values = new double[rows * columns];
    int[][] levels = new int[2][values.length];
    for (int i = 0; i < values.length; i++) {
      levels[0][i] = i / columns;
      levels[1][i] = i % columns;
      values[i] = table[levels[0][i]][levels[1][i]];
    }
    return MedianPolish.of(values, levels, rows, columns);
  }

  /** Algebra: whatever was swept out is in the effects. */
  @Test
  void effectsAndResidualsAddUpToTheCells() {
    SplittableRandom random = new SplittableRandom(11);
    int[] sizes = {3, 5, 7};
    double[] values = new double[80];
    int[][] levels = new int[3][80];
    for (int i = 0; i < 80; i++) {
      for (int f = 0; f < 3; f++) levels[f][i] = random.nextInt(sizes[f]);
      values[i] = random.nextGaussian();
    }
    MedianPolish fit = MedianPolish.of(values, levels, sizes);
    for (int i = 0; i < 80; i++) {
      double sum = fit.overall() + fit.residuals()[i];
      for (int f = 0; f < 3; f++) sum += fit.effects().get(f)[levels[f][i]];
      // 1e-12: some hundred roundings of numbers near 1.
      assertThat(sum).as("seed 11, cell " + i).isCloseTo(values[i], within(1e-12));
    }
  }

  /**
   * Where cells are sums of effects whose medians are 0, they are found again, to the last digit.
   */
  @Test
  void threeFactorsAreFoundAgainThroughAWildCell() {
    double[][] effects = {{-1, 0, 2}, {0, 0, 0, 5, -3}, {0.5, 0, -0.5, 0, 0, 4, -1}};
    double[] values = new double[105];
    int[][] levels = new int[3][105];
    for (int i = 0; i < 105; i++) {
      levels[0][i] = i % 3;
      levels[1][i] = i / 3 % 5;
      levels[2][i] = i / 15;
      values[i] = 10;
      for (int f = 0; f < 3; f++) values[i] += effects[f][levels[f][i]];
    }
    values[17] += 1_000;
    MedianPolish fit = MedianPolish.of(values, levels, 3, 5, 7);
    assertThat(fit.overall()).isCloseTo(10, within(1e-12));
    for (int f = 0; f < 3; f++)
      assertThat(fit.effects().get(f)).containsExactly(effects[f], within(1e-12));
    assertThat(fit.residuals()[17]).isCloseTo(1_000, within(1e-12));
    assertThat(fit.residualSpread()).isZero();
  }
}
