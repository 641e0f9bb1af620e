package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.function.UnaryOperator;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.fingerprint.Fingerprint.Kind;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Odometer;
import milewarden.simulator.Odometer.Lost;
import milewarden.simulator.Odometer.Source;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import org.junit.jupiter.api.Test;

/** What was put in by the simulator is the truth; long rates are a command of their own. */
final class StepsSourceTest {
  private static final ReferenceCourse COURSE =
      InventedCourse.straight("straight", new Position(46.5, -31.5), 20, 1200);
  private static final Receiver USUAL = Receiver.PERFECT.withNoise(1.2, 25, 0.2);
  private static final Walk WALK = Walk.of(COURSE).withVariation(0.06, 0.2);

  private static Fingerprint found(Walk walk, Receiver receiver, long seed) {
    return Measurer.measure(
            TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track(),
            COURSE,
            MeasureOptions.NONE.withBounds(Bounds.MARKS))
        .passes()
        .get(0)
        .fingerprints()
        .stream()
        .filter(f -> f.kind() == Kind.COUNTED_FROM_STEPS)
        .findFirst()
        .orElseThrow();
  }

  private static int present(Walk walk, UnaryOperator<Receiver> put) {
    int count = 0;
    for (long seed = 1; seed <= 30; seed++)
      if (found(walk, put.apply(USUAL), seed).present()) count++;
    return count;
  }

  private static Walk stopping() {
    return WALK.withPauses(List.of(new Walk.Pause(400, 45), new Walk.Pause(800, 45)));
  }

  private static Receiver holed(Receiver r) {
    return r.withGaps(List.of(new Receiver.Gap(150, 60, false), new Receiver.Gap(450, 80, false)));
  }

  @Test
  void aDistanceThatFollowsTheCadenceIsCountedFromSteps() {
    Receiver steps = USUAL.withCadence().withOdometer(Odometer.ofSteps(0.75));
    Fingerprint f = found(WALK, steps, 3);
    assertThat(f.present()).isTrue();
    assertThat(f.low().getAsDouble()).isLessThanOrEqualTo(100);
    assertThat(f.high().getAsDouble()).isGreaterThanOrEqualTo(100);
  }

  @Test
  void aDistanceThatGrowsWhileTheWearerStandsIsCountedFromSteps() {
    Odometer odometer = Odometer.ofSteps(0.75).withIdleSteps(30);
    assertThat(present(stopping(), r -> r.withOdometer(odometer))).isGreaterThanOrEqualTo(27);
  }

  @Test
  void aDistanceThatGrowsOtherwiseInGapsIsCountedFromStepsThere() {
    // Steps of 0.95 m for true ones of 0.737 m: 29 % more, on 140 s of the way.
    Odometer odometer = Odometer.ofSpeed(Lost.COUNTS_STEPS, 0.95);
    Fingerprint f = found(WALK, holed(USUAL).withOdometer(odometer), 5);
    assertThat(f.present()).isTrue();
    // The same walk by a device that stands still there: what it lacks was counted from steps.
    double all = recordedM(odometer);
    double counted = all - recordedM(Odometer.ofSpeed(Lost.STANDS_STILL, 0.95));
    assertThat(f.low().getAsDouble()).isLessThan(100 * counted / all);
    assertThat(f.high().getAsDouble()).isGreaterThan(100 * counted / all);
  }

  private static double recordedM(Odometer odometer) {
    return TrackSimulator.simulate(WALK, holed(USUAL).withOdometer(odometer), Sky.CLEAR, 5)
        .recordedM()
        .getAsDouble();
  }

  @Test
  void aDistanceFromSpeedOrPositionsIsNotReported() {
    for (Odometer odometer :
        List.of(
            new Odometer(Source.SPEED, 1.01),
            new Odometer(Source.POSITIONS, 1),
            Odometer.ofSpeed(Lost.STANDS_STILL, 0.75))) {
      int wrong =
          present(stopping(), r -> holed(r).withCadence().withOdometer(odometer))
              + present(WALK, r -> holed(r).withCadence().withOdometer(odometer));
      // At most 5 % of 60; the command that counts 300 is HabitRates.
      assertThat(wrong).describedAs("%s", odometer).isLessThanOrEqualTo(3);
    }
  }

  @Test
  void withoutARecordedDistanceNothingIsSaid() {
    Fingerprint f = found(WALK, USUAL.withOdometer(new Odometer(Source.NONE, 1)), 1);
    assertThat(f.presence()).isEqualTo(Fingerprint.Presence.UNSETTLED);
    assertThat(f.n()).isZero();
  }
}
