package milewarden.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

final class RisingTest {
  private static double[] made(int sign, double... values) {
    Rising.make(values, 0, values.length, sign);
    return values;
  }

  @Test
  void whatRisesStaysAndWhatFallsIsPooled() {
    assertThat(made(1, 1, 2, 3)).containsExactly(1, 2, 3);
    assertThat(made(1, 3, 2, 1)).containsExactly(2, 2, 2);
    assertThat(made(1, 1, 3, 2, 4)).containsExactly(1, 2.5, 2.5, 4);
    assertThat(made(-1, 4, 2, 3, 1)).containsExactly(4, 2.5, 2.5, 1);
  }

  @Test
  void itIsTheLargestOfTheLeastMeans() {
    // Max-min formula: value i = max over a <= i of min over b >= i of the mean from a to b
    // (Robertson,
    // Wright, Dykstra 1988, Order restricted statistical inference, theorem 1.4.4; from memory).
    long seed = 31;
    SplittableRandom random = new SplittableRandom(seed);
    for (int round = 0; round < 200; round++) {
      double[] v = random.doubles(12, -5, 5).toArray();
      double[] found = made(1, v.clone());
      for (int i = 0; i < v.length; i++) {
        double most = Double.NEGATIVE_INFINITY;
        for (int a = 0; a <= i; a++) {
          double least = Double.POSITIVE_INFINITY;
          for (int b = i; b < v.length; b++)
            least = Math.min(least, Arrays.stream(v, a, b + 1).average().orElseThrow());
          most = Math.max(most, least);
        }
        assertThat(found[i]).as("seed %d", seed).isCloseTo(most, within(1e-12));
      }
    }
  }
}
