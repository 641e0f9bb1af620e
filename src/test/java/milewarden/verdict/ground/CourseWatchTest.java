package milewarden.verdict.ground;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import milewarden.accuracy.Errors;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.units.PercentRange;
import milewarden.verdict.Condition;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.ground.CourseWatch.Watched;
import org.junit.jupiter.api.Test;

/** Made sessions whose shift is known. */
final class CourseWatchTest {
  private static final Instant FIRST = Instant.parse("2026-03-02T08:00:00Z");
  private static final double SD = 0.4;

  private final List<PassEvidence> passes = new ArrayList<>();
  private final List<PassEvidence> elsewhere = new ArrayList<>();

  private static PassEvidence pass(
      int session, String course, String unit, boolean control, String firmware, double error) {
    Instant start = FIRST.plus(Duration.ofDays(session));
    return new PassEvidence(
        session * 100L + unit.hashCode() % 50,
        "session " + session,
        start,
        LocalDate.ofInstant(start, ZoneOffset.UTC),
        "model of " + unit,
        unit,
        control,
        firmware,
        new Condition(course, "v", SkyView.OPEN, Carriage.FIXED, Gait.WALK, ""),
        Direction.FORWARD,
        new Errors(
            OptionalDouble.of(error),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.<PercentRange>empty()),
        1000,
        0.05,
        Double.NaN,
        Optional.empty());
  }

  /** A session of a control and two devices, each with its own bias, under a common sky. */
  private void session(int number, Random chance, String firmware, double here, double own) {
    double sky = SD / 2 * chance.nextGaussian();
    passes.add(pass(number, "loop", "K0", true, "9", 0.5 + sky + here + noise(chance)));
    passes.add(pass(number, "loop", "A1", false, firmware, 2 + sky + here + own + noise(chance)));
    passes.add(pass(number, "loop", "B1", false, "3", -1 + sky + here + noise(chance)));
    elsewhere.add(pass(number, "park", "K0", true, "9", 0.2 + noise(chance)));
  }

  private static double noise(Random chance) {
    return SD * chance.nextGaussian();
  }

  private List<Watched> watched() {
    return CourseWatch.of(passes, elsewhere, Policy.defaults()).watched();
  }

  private List<Watched> campaign(long seed, int sessions, int from, double here, double own) {
    passes.clear();
    elsewhere.clear();
    Random chance = new Random(seed);
    for (int i = 0; i < sessions; i++)
      session(i, chance, i < from ? "1" : "2", i < from ? 0 : here, i < from ? 0 : own);
    return watched();
  }

  @Test
  void roadworksAreSeenByControlAndByAllDevicesWithTheirDay() {
    int found = 0;
    int nearby = 0;
    for (int seed = 1; seed <= 60; seed++) {
      List<Watched> all = campaign(seed, 32, 16, 1.2, 0);
      assertThat(all)
          .extracting(Watched::unit)
          .containsExactly(Optional.of("K0"), Optional.empty());
      if (all.get(0).shift().isEmpty() || all.get(1).shift().isEmpty()) continue;
      found++;
      CourseWatch.Shift shift = all.get(0).shift().get();
      assertThat(shift.points()).as("seed " + seed).isCloseTo(1.2, within(0.6));
      assertThat(shift.isEverywhere()).as("seed " + seed).isFalse();
      assertThat(shift.matters()).as("seed " + seed).isTrue();
      LocalDate truth = LocalDate.of(2026, 3, 18);
      if (Math.abs(shift.since().toEpochDay() - truth.toEpochDay()) <= 3) nearby++;
    }
    // 1.2 points are 2.7 standard deviations of a session: Montgomery's table of run lengths has
    // 3.3 sessions on average at h 5, k 0.5 for known parameters; ours are learned on the way.
    assertThat(found).isGreaterThanOrEqualTo(54);
    assertThat(nearby).isGreaterThanOrEqualTo(found * 3 / 4);
  }

  @Test
  void aNewFirmwareAloneMovesNeitherControlNorAllDevices() {
    int told = 0;
    for (int seed = 1; seed <= 60; seed++)
      for (Watched w : campaign(seed, 32, 16, 0, 1.5)) if (w.shift().isPresent()) told++;
    // As many as where nothing happens (below).
    assertThat(told).isLessThanOrEqualTo(12);
  }

  @Test
  void whereNothingHappensNextToNothingIsTold() {
    int told = 0;
    for (int seed = 101; seed <= 160; seed++)
      for (Watched w : campaign(seed, 32, 32, 0, 0)) if (w.shift().isPresent()) told++;
    // In control one false signal in 465 sessions (Montgomery, k 0.5, h 5): 32 sessions of two
    // series in 60 campaigns make 3840 sessions, 8.3 signals, standard deviation 2.9.
    assertThat(told).isLessThanOrEqualTo(14);
  }

  @Test
  void aControlThatMovesEverywhereIsNotTheCourse() {
    passes.clear();
    Random chance = new Random(5);
    for (int i = 0; i < 32; i++) {
      double shift = i < 16 ? 0 : 1.5;
      passes.add(pass(i, "loop", "K0", true, "9", 0.5 + shift + noise(chance)));
      elsewhere.add(pass(i, "park", "K0", true, "9", 0.2 + shift + noise(chance)));
    }
    CourseWatch.Shift shift = watched().get(0).shift().orElseThrow();
    assertThat(shift.isEverywhere()).isTrue();
  }

  @Test
  void oneSessionOrOneDeviceSaysNothing() {
    assertThat(watched()).isEmpty();
    passes.add(pass(1, "loop", "A1", false, "1", 3));
    passes.add(pass(2, "loop", "A1", false, "1", 30));
    assertThat(watched()).isEmpty();
  }

  @Test
  void aShiftThatIsSmallAgainstTheMaterialChangeAsksForNothing() {
    passes.clear();
    // Alternating about two levels 0.1 points apart, with a spread of a hundredth: a clear shift,
    // and less than half the material change of 0.5 points.
    for (int i = 0; i < 24; i++) {
      double level = (i < 12 ? 0.5 : 0.6) + (i % 2 == 0 ? 0.01 : -0.01);
      passes.add(pass(i, "loop", "K0", true, "9", level));
    }
    CourseWatch.Shift shift = watched().get(0).shift().orElseThrow();
    assertThat(shift.points()).isCloseTo(0.1, within(0.01));
    assertThat(shift.matters()).isFalse();
  }
}
