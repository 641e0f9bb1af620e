package milewarden.accuracy.fingerprint;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import milewarden.accuracy.noise.MatchedPoints;
import org.junit.jupiter.api.Test;

class InsideOffsetTest {
  private static final double RADIUS_M = 36.5;
  private static final double SPEED_MPS = 3;

  /** Laps of a circle to the right at one speed. */
  private static FollowedLine circle() {
    int n = 400;
    double[] along = new double[n];
    double[] second = new double[n];
    for (int i = 0; i < n; i++) {
      second[i] = i;
      along[i] = SPEED_MPS * i;
    }
    MatchedPoints points =
        new MatchedPoints(along, new double[n], along, second, new boolean[n - 1]);
    return new FollowedLine(
        points,
        at -> {
          double[] out = new double[at.length];
          for (int i = 0; i < out.length; i++) out[i] = at[i] / RADIUS_M;
          return out;
        });
  }

  /** Settled in the middle of the way: 200 s are many times the longest filter. */
  private static double settled(double[] offsets) {
    return offsets[offsets.length / 2];
  }

  // Inside is to the right. The line goes round in chords of one step each, of 1.5 m: its
  // sagitta, step^2 / (8 R), is 8 mm; the filter's rule is exact to the third order.
  private static final double CHORD_M = 0.01;

  @Test
  void aFirstOrderLagRunsOnTheSmallerCircleOfItsGain() {
    FollowedLine line = circle();
    double[] lagged = new double[line.size()];
    for (double t : new double[] {1, 2, 4, 8}) {
      new InsideOffset(line).of(t, lagged, new double[0]);
      double w = SPEED_MPS * t / RADIUS_M;
      // Gain of 1 / (1 + i w): DOMAIN.md section 3.
      double inside = RADIUS_M * (1 - 1 / Math.sqrt(1 + w * w));
      assertThat(settled(lagged)).as("T = %s", t).isCloseTo(inside, within(CHORD_M));
    }
  }

  @Test
  void aFilterThatCarriesASpeedRunsOnTheLargerCircleOfItsGain() {
    FollowedLine line = circle();
    double[] carried = new double[line.size()];
    for (double t : new double[] {1, 2, 4, 8}) {
      new InsideOffset(line).of(t, new double[0], carried);
      double w = SPEED_MPS * t / RADIUS_M;
      // Gain of (1 + 2 i w) / (1 + i w)^2: algebra.
      double outside = RADIUS_M * (Math.sqrt(1 + 4 * w * w) / (1 + w * w) - 1);
      assertThat(settled(carried)).as("T = %s", t).isCloseTo(-outside, within(CHORD_M));
    }
  }

  @Test
  void bothAskedTogetherAreAsEachAlone() {
    FollowedLine line = circle();
    InsideOffset inside = new InsideOffset(line);
    double[] lagged = new double[line.size()];
    double[] carried = new double[line.size()];
    double[] alone = new double[line.size()];
    inside.of(2.7, lagged, carried);
    inside.of(2.7, alone, new double[0]);
    assertThat(lagged).isEqualTo(alone);
    inside.of(2.7, new double[0], alone);
    assertThat(carried).isEqualTo(alone);
  }

  @Test
  void fixesSeeTheMeanOfThreeMeansAroundTheirFeet() {
    FollowedLine line = circle();
    Random random = new Random(11);
    double[] values = random.doubles(line.size()).toArray();
    double[] feet = random.doubles(50, -50, SPEED_MPS * 450).toArray();
    // A running mean of w = 7 even steps has the variance (w^2 - 1) / 12; three add up.
    int half = 3;
    double sigmaM = line.stepM() * Math.sqrt(3 * 48 / 12.0);
    double[] seen = new double[feet.length];
    new AsSeen(line, feet, sigmaM).column(values, seen);
    double[] spread = values;
    for (int turn = 0; turn < 3; turn++) spread = mean(spread, half);
    double[] steps = line.stepsTo(feet);
    for (int j = 0; j < feet.length; j++) {
      int i = Math.min((int) steps[j], spread.length - 2);
      double part = steps[j] - i;
      // Some hundred roundings of sums below 1.
      assertThat(seen[j]).isCloseTo((1 - part) * spread[i] + part * spread[i + 1], within(1e-12));
    }
  }

  /** Beyond the ends lies nothing, which counts. */
  private static double[] mean(double[] values, int half) {
    double[] out = new double[values.length];
    for (int i = 0; i < out.length; i++) {
      for (int k = Math.max(0, i - half); k <= Math.min(out.length - 1, i + half); k++)
        out[i] += values[k];
      out[i] /= 2 * half + 1;
    }
    return out;
  }
}
