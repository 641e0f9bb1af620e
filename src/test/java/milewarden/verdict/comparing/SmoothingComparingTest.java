package milewarden.verdict.comparing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import milewarden.course.Direction;
import milewarden.verdict.Campaign;
import milewarden.verdict.Condition;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.SmoothingChange;
import milewarden.verdict.SmoothingLag;
import org.apache.commons.math3.stat.inference.TTest;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;
import org.junit.jupiter.api.Test;

final class SmoothingComparingTest {
  private static final double[] BEFORE = {2.1, 1.7, 2.4, 2.0, 1.9, 2.2, 1.8, 2.3};
  private static final double[] AFTER = {4.2, 3.7, 4.1, 3.9, 4.4, 3.8};

  private final Campaign campaign = new Campaign().release("1.0").release("2.0");
  private final Map<Long, SmoothingLag> lags = new HashMap<>();

  private void sessions(String version, int firstDay, Condition in, double... seconds) {
    for (int i = 0; i < seconds.length; i++)
      pass(version, firstDay + i, in, "unit-a", seconds[i], 1);
  }

  private void pass(
      String version, int day, Condition in, String unit, double seconds, double half) {
    campaign.track(version, day, in, unit, Direction.FORWARD, 0.2);
    PassEvidence last = campaign.passes.get(campaign.passes.size() - 1);
    lags.put(
        last.resultId(), new SmoothingLag(seconds, Math.max(0, seconds - half), seconds + half));
  }

  private Optional<SmoothingChange> compare() {
    ModelHistory history = campaign.history();
    return SmoothingComparing.of(
        history.passesOf("2.0"), history.passesOf("1.0"), lags, Policy.defaults());
  }

  @Test
  void inOneConditionItIsTheTTestOfTwoSamples() {
    sessions("1.0", 0, Campaign.LOOP, BEFORE);
    sessions("2.0", 40, Campaign.LOOP, AFTER);
    SmoothingChange found = compare().orElseThrow();
    // Apache Commons Math 3.6.1, the t test with equal variances.
    assertThat(found.p()).isCloseTo(new TTest().homoscedasticTTest(AFTER, BEFORE), within(1e-12));
    // By hand: means 24.1 / 6 and 16.4 / 8.
    assertThat(found.changeS()).isCloseTo(24.1 / 6 - 16.4 / 8, within(1e-12));
    assertThat(found.candidateLagS()).isCloseTo(24.1 / 6, within(1e-12));
    assertThat(found.baselineLagS()).isCloseTo(16.4 / 8, within(1e-12));
    assertThat(found.candidateSessions()).isEqualTo(6);
    assertThat(found.changed()).isTrue();
    assertThat(found.more()).isTrue();
  }

  @Test
  void conditionsAreHeldAlikeWhereAReleaseWasRunInOneOfThemMoreOften() {
    // The bends of the second condition show two seconds more of any release.
    double[] y = {2.0, 2.3, 1.8, 4.1, 3.8, 4.2, 2.2, 4.3, 4.0};
    boolean[] swings = {false, false, false, true, true, true, false, true, true};
    for (int i = 0; i < y.length; i++)
      sessions(i < 6 ? "1.0" : "2.0", 10 * i, swings[i] ? Campaign.SWING : Campaign.LOOP, y[i]);
    SmoothingChange found = compare().orElseThrow();
    double[][] x = new double[y.length][];
    double[] root = new double[y.length];
    double[] weighted = new double[y.length];
    // The weights by algebra: intervals of 1 s on either side are 4 y wide in the square of the
    // lag; each condition weighs by the inverse square of their median.
    double loop = 1 / Math.pow(4 * 2.1, 2);
    double swing = 1 / Math.pow(4 * 4.1, 2);
    for (int i = 0; i < y.length; i++) {
      root[i] = Math.sqrt(swings[i] ? swing : loop);
      weighted[i] = root[i] * y[i];
      x[i] =
          new double[] {
            swings[i] ? 0 : root[i], swings[i] ? root[i] : 0, i < 6 ? 0 : root[i],
          };
    }
    OLSMultipleLinearRegression ols = new OLSMultipleLinearRegression();
    ols.setNoIntercept(true);
    ols.newSampleData(weighted, x);
    // Apache Commons Math 3.6.1, multiple regression on rows times the root of their weights.
    assertThat(found.changeS()).isCloseTo(ols.estimateRegressionParameters()[2], within(1e-10));
    assertThat(found.changed()).isFalse();
  }

  @Test
  void passesOfOneSessionAreOnePieceOfEvidence() {
    sessions("1.0", 0, Campaign.LOOP, BEFORE);
    sessions("2.0", 40, Campaign.LOOP, AFTER);
    SmoothingChange once = compare().orElseThrow();
    for (PassEvidence p : List.copyOf(campaign.passes)) {
      campaign.passes.add(p.withResultId(1000 + p.resultId()));
      lags.put(1000 + p.resultId(), lags.getOrDefault(p.resultId(), new SmoothingLag(0, 0, 1)));
    }
    SmoothingChange twice = compare().orElseThrow();
    assertThat(twice.p()).isCloseTo(once.p(), within(1e-12));
    assertThat(twice.candidateSessions()).isEqualTo(once.candidateSessions());
  }

  @Test
  void nothingIsSaidBeforeTheFirstLookOrWithoutACommonUnit() {
    sessions("1.0", 0, Campaign.LOOP, BEFORE);
    sessions("2.0", 40, Campaign.LOOP, 4.2, 3.7);
    assertThat(compare()).isEmpty();
    for (int i = 0; i < 6; i++) pass("2.0", 50 + i, Campaign.SWING, "unit-a", 4, 1);
    assertThat(compare()).isEmpty();
    for (int i = 0; i < 6; i++) pass("2.0", 60 + i, Campaign.LOOP, "unit-b", 4, 1);
    assertThat(compare()).isEmpty();
    sessions("2.0", 70, Campaign.LOOP, 3.9);
    assertThat(compare().orElseThrow().candidateSessions()).isEqualTo(3);
  }

  @Test
  void aChangeThatIsSureButSmallIsNotCalled() {
    sessions("1.0", 0, Campaign.LOOP, BEFORE);
    double[] more = BEFORE.clone();
    for (int i = 0; i < more.length; i++) more[i] += 0.9;
    sessions("2.0", 40, Campaign.LOOP, more);
    SmoothingChange found = compare().orElseThrow();
    assertThat(found.p()).isLessThan(found.alpha());
    assertThat(found.changed()).isFalse();
  }

  @Test
  void whereNoFilterIsSeenTheIntervalAllowsForWhatNoisePretends() {
    for (int i = 0; i < BEFORE.length; i++)
      pass("1.0", i, Campaign.LOOP, "unit-a", BEFORE[i] - 1.5, 5);
    sessions("2.0", 40, Campaign.LOOP, AFTER);
    SmoothingChange found = compare().orElseThrow();
    // What is shown of the baseline may all be noise: its lag then is 0.
    assertThat(found.highS()).isGreaterThanOrEqualTo(found.candidateLagS());
  }

  @Test
  void oneReleaseInAHundredIsCalledWhereNothingChanged() {
    SplittableRandom random = new SplittableRandom(20261127);
    int called = 0;
    int releases = 1000;
    for (int r = 0; r < releases; r++) {
      campaign.passes.clear();
      lags.clear();
      double[] all = new double[20];
      // Spread enough that the size of a change holds few back.
      for (int i = 0; i < all.length; i++) all[i] = 9 + 2 * random.nextGaussian();
      boolean ever = false;
      for (int look : List.of(3, 6, 12)) {
        campaign.passes.clear();
        List<Double> after = new ArrayList<>();
        sessions("1.0", 0, Campaign.LOOP, Arrays.copyOf(all, 8));
        for (int i = 8; i < 8 + look; i++) after.add(all[i]);
        sessions(
            "2.0", 40, Campaign.LOOP, after.stream().mapToDouble(Double::doubleValue).toArray());
        ever |= compare().orElseThrow().changed();
      }
      if (ever) called++;
    }
    // At most 1 %, and by how much chance may exceed it: 3 standard errors of 1,000 at 1 %.
    assertThat(called / (double) releases)
        .isLessThan(0.01 + 3 * Math.sqrt(0.01 * 0.99 / releases))
        .isGreaterThan(0.001);
  }
}
