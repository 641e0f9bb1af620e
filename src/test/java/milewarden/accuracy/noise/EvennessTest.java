package milewarden.accuracy.noise;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.random.RandomGenerator;
import org.junit.jupiter.api.Test;

/** Whether parts of a series are equally strong, on normals drawn on their own. */
final class EvennessTest {
  private static final int EACH = 200;
  private static final int TRIES = 2000;

  private static Evenness of(RandomGenerator random, double... sigma) {
    double[] mean = new double[sigma.length];
    double[] independent = new double[sigma.length];
    Arrays.fill(independent, EACH);
    for (int b = 0; b < sigma.length; b++)
      for (int i = 0; i < EACH; i++)
        mean[b] += Math.sqrt(sigma[b] * Math.abs(random.nextGaussian())) / EACH;
    return Evenness.of(mean, independent);
  }

  @Test
  void partsOfOneStrengthAreEven() {
    RandomGenerator random = new SplittableRandom(11);
    double[] sigma = new double[10];
    Arrays.fill(sigma, 3);
    for (int i = 0; i < TRIES; i++) assertThat(of(random, sigma).even()).as("try %d", i).isTrue();
  }

  @Test
  void aPartOfThriceTheStrengthIsFoundWithItsRatio() {
    RandomGenerator random = new SplittableRandom(12);
    double sum = 0;
    for (int i = 0; i < TRIES; i++) {
      Evenness found = of(random, 6, 2);
      assertThat(found.even()).as("try %d", i).isFalse();
      sum += Math.log(found.ratio());
    }
    // The scatter of a log ratio is 2 sqrt(2 * 0.18 / 200) = 0.085; of the mean of all of them
    // 0.002.
    assertThat(sum / TRIES).isCloseTo(Math.log(3), within(0.008));
  }

  @Test
  void partsWithoutDifferencesAreLeftOut() {
    assertThat(Evenness.of(new double[] {0, 1, 1}, new double[] {50, 50, 0}))
        .isEqualTo(new Evenness(1, true));
  }
}
