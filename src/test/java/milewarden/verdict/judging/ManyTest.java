package milewarden.verdict.judging;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import milewarden.accuracy.Errors;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.verdict.Campaign;
import milewarden.verdict.CourseBias;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.comparing.OverallP;
import org.junit.jupiter.api.Test;

/** What many models, many units and many courses tell together. */
final class ManyTest {
  /** Twenty sessions, the last twelve under a later release that reads so much more. */
  private static ModelJudgement judged(long seed, double shift) {
    SplittableRandom random = new SplittableRandom(seed);
    Campaign c = new Campaign().release("1.0").release("1.1");
    for (int day = 0; day < 20; day++)
      c.sessions(day < 8 ? "1.0" : "1.1", day, 3 + random.nextGaussian() + (day < 8 ? 0 : shift));
    return c.judge();
  }

  @Test
  void aChangeThatIsCalledAloneMayBeChanceAmongManyModels() {
    Policy policy = Policy.defaults();
    Map<Integer, ModelJudgement> models = new LinkedHashMap<>();
    for (int seed = 0; seed < 60; seed++) models.put(seed, judged(seed, 0));
    models.put(100, judged(100, 4));
    ManyModels<Integer> many = ManyModels.of(models, policy);
    assertThat(many.tests()).isEqualTo(61);
    // Four standard deviations stand among any number.
    assertThat(many.of(100)).hasValue(true);
    // The step-up by hand (Benjamini and Hochberg 1995): the largest k with p(k) <= k / m q.
    double[] sorted =
        models.values().stream().mapToDouble(j -> overall(j, policy)).sorted().toArray();
    double last = 0;
    for (int k = 0; k < sorted.length; k++)
      if (sorted[k] <= (k + 1.0) / sorted.length * 0.10) last = sorted[k];
    List<Integer> chance = new java.util.ArrayList<>();
    for (Map.Entry<Integer, ModelJudgement> model : models.entrySet()) {
      Optional<Boolean> told = many.of(model.getKey());
      if (told.isEmpty()) continue;
      boolean stands = overall(model.getValue(), policy) <= last;
      assertThat(told).as("model " + model.getKey()).hasValue(stands);
      if (!stands) chance.add(model.getKey());
    }
    // Some unchanged ones were called and don't stand; alone each would.
    assertThat(chance).isNotEmpty();
    int one = chance.get(0);
    assertThat(ManyModels.of(Map.of(one, judged(one, 0)), policy).of(one)).hasValue(true);
  }

  private static double overall(ModelJudgement judged, Policy policy) {
    return OverallP.of(judged.comparisons().get(0), policy).orElseThrow();
  }

  @Test
  void whereNothingWasCalledNothingIsSaid() {
    Campaign c = new Campaign().release("1.0").release("1.1").sessions("1.0", 0, 1, 2, 1, 2);
    assertThat(ManyModels.of(Map.of(1, c.judge()), Policy.defaults()).tests()).isZero();
  }

  @Test
  void theVarianceBetweenUnitsIsPooledByDegreesOfFreedomAndNeverNegative() {
    // (2 * 0.4 + 1 * -0.2) / 3 = 0.2: what chance made negative takes from what it made large.
    UnitVariance pooled =
        UnitVariance.pooled(List.of(new UnitVariance(0.4, 2), new UnitVariance(-0.2, 1)))
            .orElseThrow();
    assertThat(pooled.variance()).isCloseTo(0.2, within(1e-12));
    assertThat(pooled.degreesOfFreedom()).isEqualTo(3);
    assertThat(UnitVariance.pooled(List.of(new UnitVariance(-1, 4))).orElseThrow().variance())
        .isZero();
    assertThat(UnitVariance.pooled(List.of())).isEmpty();
  }

  @Test
  void theUnitsOfOneModelSpeakForAnotherThatHasOne() {
    // Three units that read 0, 1 and 2 points apart in every session: their variance is 1.
    Campaign three = new Campaign().release("1.0");
    for (int day = 0; day < 5; day++)
      for (int unit = 0; unit < 3; unit++)
        three.track("1.0", day, Campaign.LOOP, "unit-" + unit, Direction.FORWARD, unit + 0.1 * day);
    UnitVariance found = three.judge().units().orElseThrow();
    assertThat(found.variance()).isCloseTo(1, within(1e-12));
    assertThat(found.degreesOfFreedom()).isEqualTo(2);
    Campaign one = new Campaign().release("1.0").sessions("1.0", 0, 0.1, 0.2, 0.3);
    one.others = UnitVariance.pooled(List.of(found));
    ReleaseFigures f = one.judge().releases().get(0).pooled().orElseThrow();
    assertThat(f.theseUnitsOnly()).isFalse();
    assertThat(f.standardUncertaintyPercent().orElseThrow())
        .isCloseTo(Math.sqrt(0.01 / 3 + 1), within(1e-12));
  }

  private static Campaign courses(double... biases) {
    Campaign c = new Campaign().release("1.0");
    double[] noise = {-0.02, 0.01, 0.03, -0.01, 0, -0.01};
    int day = 0;
    for (int k = 0; k < biases.length; k++)
      for (double n : noise) {
        c.control(day, 0.7 + biases[k] + n);
        PassEvidence p = c.passes.remove(c.passes.size() - 1);
        c.passes.add(
            new PassEvidence(
                p.resultId(),
                p.session(),
                p.sessionStart(),
                p.date(),
                p.model(),
                p.unit(),
                true,
                p.firmware(),
                Campaign.condition("course-" + k, "v1", Carriage.FIXED),
                Direction.FORWARD,
                new Errors(
                    OptionalDouble.of(0.7 + biases[k] + n),
                    OptionalDouble.empty(),
                    OptionalDouble.empty(),
                    Optional.empty()),
                2000,
                0.05,
                Double.NaN,
                Optional.empty()));
        day++;
      }
    return c;
  }

  @Test
  void aControlFindsTheCourseThatWasMeasuredWrongly() {
    // The third of four courses was taken 0.4 % too short; each is stated to 0.05 %.
    List<CourseBias> found = courses(0.02, -0.03, 0.4, 0.01).judge().courses();
    assertThat(found).hasSize(4);
    assertThat(found).extracting(CourseBias::course).contains("course-2");
    assertThat(found.stream().filter(b -> !b.consistent()).map(CourseBias::course))
        .containsExactly("course-2");
    // Equal weights: the three that agree have the mean 0, and their deviations add up to 0 (Cox
    // 2002, 2007).
    assertThat(found.get(2).biasPercent()).isCloseTo(0.4, within(1e-12));
    assertThat(found.stream().mapToDouble(CourseBias::biasPercent).sum())
        .isCloseTo(0.4, within(1e-12));
    // u^2 = (1 + 1/3) (u_ref^2 + s^2 / 6), s^2 = 0.00032; t for 1 - 0.05/4 two-sided, near 2.5.
    double u = Math.sqrt(4 / 3.0 * (0.0025 + 0.00032 / 6));
    assertThat(found.get(2).expandedUncertaintyPercent()).isBetween(2.49 * u, 2.60 * u);
  }

  @Test
  void coursesThatKeepTheirWordAreLeftAlone() {
    assertThat(courses(0.02, -0.03, 0.05, 0.01).judge().courses()).allMatch(CourseBias::consistent);
    assertThat(courses(0.4).judge().courses()).isEmpty();
  }

  @Test
  void aSignalIsNotTakenBackWhenTheParametersBecomeKnown() {
    // A shift of 3 SD at session 15, found before 30 sessions are there; and still there after.
    SplittableRandom random = new SplittableRandom(8);
    Campaign c = new Campaign().release("1.0");
    double[] x = new double[40];
    for (int i = 0; i < x.length; i++) x[i] = random.nextGaussian() + (i < 15 ? 0 : 3);
    c.sessions("1.0", 0, java.util.Arrays.copyOf(x, 28));
    var before = c.judge().monitoring().get(0);
    assertThat(before.selfStarting()).isTrue();
    assertThat(before.signalAt().orElseThrow()).isBetween(15, 24);
    c.sessions("1.0", 28, java.util.Arrays.copyOfRange(x, 28, 40));
    var after = c.judge().monitoring().get(0);
    assertThat(after.selfStarting()).isFalse();
    assertThat(after.signalAt()).isEqualTo(before.signalAt());
    assertThat(after.high().subList(0, 28)).isEqualTo(before.high());
  }
}
