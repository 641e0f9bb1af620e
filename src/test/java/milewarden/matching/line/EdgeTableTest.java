package milewarden.matching.line;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Against the binary search of the JDK. */
final class EdgeTableTest {
  private static int searched(double[] chainage, double at) {
    int found = Arrays.binarySearch(chainage, at);
    int e = found >= 0 ? found : -found - 2;
    return Math.max(0, Math.min(chainage.length - 2, e));
  }

  @Test
  void theEdgeIsTheOneThatABinarySearchFinds() {
    SplittableRandom random = new SplittableRandom(12);
    for (int round = 0; round < 60; round++) {
      double[] chainage = new double[2 + random.nextInt(400)];
      chainage[0] = round % 2 == 0 ? 0 : -60;
      for (int i = 1; i < chainage.length; i++)
        // Edges from a centimetre to half a kilometre, unevenly.
        chainage[i] = chainage[i - 1] + Math.pow(10, random.nextDouble(-2, 2.7));
      EdgeTable table = new EdgeTable(chainage);
      double last = chainage[chainage.length - 1];
      for (int k = 0; k < 500; k++) {
        double at = random.nextDouble(chainage[0] - 10, last + 10);
        assertThat(table.edge(at)).isEqualTo(searched(chainage, at));
      }
      for (double vertex : chainage)
        assertThat(table.edge(vertex)).isEqualTo(searched(chainage, vertex));
    }
  }
}
