package milewarden.matching;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.simulator.Receiver;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/**
 * Matching against the truth that the simulator carries along: a fix is on the wrong leg or lap
 * where its chainage is further off than 40 m, or 5 sigma where that is more.
 */
final class ProgressTest {
  private static final int SEEDS = 30;

  // ENGINE: wrong leg or lap below 0.1 %.
  private static final double MOST_WRONG = 0.001;

  private static final Receiver NOISY = Receiver.PERFECT.withNoise(4, 20, 0.5);

  private int wrong;
  private int fixes;
  private final StringBuilder worst = new StringBuilder();

  private static Walk walk(ReferenceCourse course) {
    return Walk.of(course).withVariation(0.05, 0.3);
  }

  private void take(ReferenceCourse course, Track track, double[] truth, double sigma, long seed) {
    take(course, track, truth, sigma, seed, Optional.empty());
  }

  private void take(
      ReferenceCourse course,
      Track track,
      double[] truth,
      double sigma,
      long seed,
      Optional<Direction> hint) {
    CourseMatcher matcher = CourseMatcher.of(course);
    Match match = matcher.match(track, Timeline.of(track), hint);
    double limit = Math.max(40, 5 * sigma);
    // Which lap is called the first is a matter of naming: whole laps are taken out once.
    double k = course.horizontalM() / match.lengthM();
    double shift = 0;
    if (course.closed()) {
      double[] apart = new double[truth.length];
      for (int i = 0; i < apart.length; i++) apart[i] = k * match.chainageM()[i] - truth[i];
      java.util.Arrays.sort(apart);
      shift = course.horizontalM() * Math.rint(apart[apart.length / 2] / course.horizontalM());
    }
    int here = 0;
    for (int i = 0; i < truth.length; i++)
      if (!(Math.abs(k * match.placeM()[i] - shift - truth[i]) <= limit)) here++;
    if (here > 0) worst.append(" seed ").append(seed).append(": ").append(here);
    wrong += here;
    fixes += truth.length;
  }

  private void run(Walk walk, Receiver receiver) {
    for (long seed = 1; seed <= SEEDS; seed++) {
      SimulatedTrack s = TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed);
      take(walk.course(), s.track(), s.truth().chainageM(), receiver.sigmaM(), seed);
    }
    enough();
  }

  private void enough() {
    assertThat(wrong / (double) fixes)
        .as("share on the wrong leg or lap of %d fixes:%s", fixes, worst)
        .isLessThanOrEqualTo(MOST_WRONG);
  }

  @Test
  void aFigureEightIsRunThroughItsCrossing() {
    run(walk(Shapes.figureEight()).withLaps(3), NOISY);
  }

  @Test
  void twoLegsSixMetresApartAreToldApartWithEightMetresOfWhiteNoise() {
    run(walk(Shapes.twoLegs()).withGates(60), Receiver.PERFECT.withNoise(0, 1, 8));
  }

  @Test
  void twoLegsAreToldApartWithEightMetresOfLastingNoiseWhereTheDirectionIsGiven() {
    for (Direction direction : Direction.values()) {
      Walk walk = walk(Shapes.twoLegs()).withGates(60).withDirection(direction);
      Receiver receiver = Receiver.PERFECT.withNoise(8, 20, 0);
      for (long seed = 1; seed <= SEEDS; seed++) {
        SimulatedTrack s = TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed);
        take(walk.course(), s.track(), s.truth().chainageM(), 8, seed, Optional.of(direction));
      }
    }
    enough();
  }

  @Test
  void lastingNoiseHidesTheDirectionOnTwoLegsNoMoreOftenThanItMust() {
    // Up one leg and down the other differs from the way round only by 6 m sideways on each leg.
    // With sigma 8 m and T 20 s a leg of 400 m at 1.4 m/s has 400 / 1.4 / 40 = 7 independent
    // errors;
    // the difference of both legs' means scatters by 8 sqrt(2 / 7) = 4.3 m about 6: the best rule
    // without a word about the direction errs in 8 %. Here: share of runs.
    Walk walk = walk(Shapes.twoLegs()).withGates(60);
    int wrongRuns = 0;
    for (long seed = 1; seed <= SEEDS; seed++) {
      int before = wrong;
      SimulatedTrack s =
          TrackSimulator.simulate(walk, Receiver.PERFECT.withNoise(8, 20, 0), Sky.CLEAR, seed);
      take(walk.course(), s.track(), s.truth().chainageM(), 8, seed);
      if (wrong > before) wrongRuns++;
    }
    assertThat(wrongRuns / (double) SEEDS).as("runs:%s", worst).isLessThanOrEqualTo(0.08);
  }

  @Test
  void aHairpinIsRunRound() {
    run(walk(Shapes.hairpin()).withGait(Gait.RUN, 4), NOISY);
  }

  @Test
  void theSeamOfLapsIsPassedFiveTimes() {
    run(walk(Shapes.oval()).withLaps(5).withGait(Gait.RUN, 3.5), NOISY);
  }

  @Test
  void aRunMayStartInTheMiddleOfTheLoop() {
    run(walk(Shapes.oval()).withLaps(4).withStartChainage(170), NOISY);
  }

  @Test
  void theReverseDirectionIsFoundFromTheTrack() {
    run(walk(Shapes.oval()).withLaps(3).withDirection(Direction.REVERSE), NOISY);
    run(walk(Shapes.figureEight()).withLaps(2).withDirection(Direction.REVERSE), NOISY);
    run(walk(Shapes.hairpin()).withDirection(Direction.REVERSE), NOISY);
  }

  @Test
  void standingForAMinuteMovesNothing() {
    run(
        walk(Shapes.figureEight())
            .withLaps(2)
            .withPauses(List.of(new Walk.Pause(190, 60), new Walk.Pause(753, 60))),
        NOISY);
  }

  @Test
  void aGapOfTwoMinutesIsBridgedByTheSpeedBeforeAndBehindIt() {
    Receiver gap = NOISY.withGaps(List.of(new Receiver.Gap(200, 120, false)));
    run(walk(Shapes.oval()).withLaps(5), gap);
    run(walk(Shapes.oval()).withLaps(8).withGait(Gait.RUN, 3.5), gap);
    run(walk(Shapes.figureEight()).withLaps(3), gap);
  }

  @Test
  void outAndBackIsTwoWays() {
    run(walk(Shapes.straight(800)).withLaps(2), NOISY);
    run(walk(Shapes.straight(800)).withLaps(4).withGates(50), NOISY);
    run(walk(Shapes.hairpin()).withLaps(2), NOISY);
  }

  @Test
  void sparseFixesAreMatchedAsWell() {
    run(walk(Shapes.figureEight()).withLaps(3).withGait(Gait.RUN, 3.5), NOISY.withInterval(5));
    run(walk(Shapes.oval()).withLaps(6).withGait(Gait.RUN, 3.5), NOISY.withInterval(10));
  }

  @Test
  void outliersAndGapsLeaveTheLegAndTheLap() {
    Receiver gap =
        NOISY.withGaps(List.of(new Receiver.Gap(100, 40, false), new Receiver.Gap(400, 25, true)));
    for (ReferenceCourse course :
        List.of(Shapes.figureEight(), Shapes.oval(), Shapes.hairpin(), Shapes.twoLegs()))
      for (long seed = 1; seed <= SEEDS; seed++) {
        Walk walk = walk(course).withLaps(course.closed() ? 3 : 1);
        SimulatedTrack s = TrackSimulator.simulate(walk, gap, Sky.CLEAR, seed);
        Track track = Shapes.withOutliers(s.track(), 25, seed);
        take(course, track, s.truth().chainageM(), 4, seed);
      }
    enough();
  }

  @Test
  void aTrackWithoutTimesIsMatchedByItsOrder() {
    for (long seed = 1; seed <= SEEDS; seed++) {
      Walk walk = walk(Shapes.figureEight()).withLaps(2);
      SimulatedTrack s = TrackSimulator.simulate(walk, NOISY, Sky.CLEAR, seed);
      take(walk.course(), Shapes.withoutTimes(s.track()), s.truth().chainageM(), 4, seed);
    }
    enough();
  }
}
