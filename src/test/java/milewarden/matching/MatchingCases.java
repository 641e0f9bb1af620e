package milewarden.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.simulator.Receiver;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;

/**
 * The tracks on which matching is hard, each with its truth: made new for every seed, for the tests
 * (a few seeds) and for {@code MatchingProof} (many).
 */
public final class MatchingCases {
  /** 4 m that last 20 s and half a metre that is new at every fix: DOMAIN.md section 4's tracks. */
  static final Receiver NOISY = Receiver.PERFECT.withNoise(4, 20, 0.5);

  // Digits of e, on which nothing was tuned.
  private static final long DIGITS_OF_E = 271828182845904523L;

  private MatchingCases() {}

  /** Seeds that the matcher was not tuned on: those were 1, 2, 3 and so on. */
  public static List<Long> freshSeeds(int count) {
    SplittableRandom random = new SplittableRandom(DIGITS_OF_E);
    return Stream.generate(random::nextLong).limit(count).toList();
  }

  /** Makes the track of a seed. */
  @FunctionalInterface
  public interface Maker {
    KnownTrack make(long seed);
  }

  /**
   * One kind of track.
   *
   * @param group the named case that it belongs to
   * @param name what is hard about it, for a table
   */
  public record Case(String group, String name, Maker maker) {
    @Override
    public String toString() {
      return group + ", " + name;
    }
  }

  /** All of them, in the order of the table. */
  public static List<Case> all() {
    List<Case> all = new ArrayList<>();
    all.addAll(shapes());
    all.addAll(legs());
    all.addAll(laps());
    all.addAll(directions());
    all.addAll(interruptions());
    all.addAll(detours());
    all.addAll(others());
    return all;
  }

  private static Walk walk(ReferenceCourse course) {
    return Walk.of(course).withVariation(0.05, 0.3);
  }

  private static Case of(String group, String name, Walk walk, Receiver receiver) {
    return new Case(group, name, seed -> simulated(walk, receiver, seed));
  }

  private static KnownTrack simulated(Walk walk, Receiver receiver, long seed) {
    SimulatedTrack s = TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed);
    return KnownTrack.of(walk.course(), s);
  }

  private static List<Case> shapes() {
    return List.of(
        of("figure eight", "3 laps", walk(Shapes.figureEight()).withLaps(3), NOISY),
        of("hairpin", "run", walk(Shapes.hairpin()).withGait(Gait.RUN, 4), NOISY),
        of("hairpin", "walk", walk(Shapes.hairpin()).withGates(60), NOISY));
  }

  private static List<Case> legs() {
    Walk walk = walk(Shapes.twoLegs()).withGates(60);
    Walk back = walk.withDirection(Direction.REVERSE);
    Receiver white = Receiver.PERFECT.withNoise(0, 1, 8);
    Receiver lasting = Receiver.PERFECT.withNoise(8, 20, 0);
    // 8 m in the plane is 8 / sqrt(2) on each axis.
    Receiver inThePlane = Receiver.PERFECT.withNoise(8 / Math.sqrt(2), 20, 0);
    return List.of(
        of("parallel legs", "8 m white", walk, white),
        of("parallel legs", "8 m white, reverse", back, white),
        of("parallel legs", "8 m lasting", walk, lasting),
        of("parallel legs", "8 m lasting, reverse", back, lasting),
        of("parallel legs", "8 m in the plane, lasting", walk, inThePlane),
        of("parallel legs", "8 m in the plane, lasting, reverse", back, inThePlane),
        tagged("8 m lasting, tag", walk, lasting),
        tagged("8 m lasting, reverse, tag", back, lasting));
  }

  private static Case tagged(String name, Walk walk, Receiver receiver) {
    return new Case(
        "parallel legs",
        name,
        seed -> simulated(walk, receiver, seed).withHint(Optional.of(walk.direction())));
  }

  private static List<Case> laps() {
    Walk oval = walk(Shapes.oval());
    return List.of(
        of("lap seam", "2 laps from 20 m before", oval.withLaps(2).withStartChainage(380), NOISY),
        of("lap seam", "standing on it", oval.withLaps(2).withStanding(30), NOISY),
        of("five laps", "run", oval.withLaps(5).withGait(Gait.RUN, 3.5), NOISY),
        of("five laps", "walk", oval.withLaps(5), NOISY),
        of("middle of a loop", "oval", oval.withLaps(4).withStartChainage(170), NOISY),
        of(
            "middle of a loop",
            "figure eight",
            walk(Shapes.figureEight()).withLaps(2).withStartChainage(330),
            NOISY));
  }

  private static List<Case> directions() {
    return List.of(
        of(
            "reverse",
            "oval",
            walk(Shapes.oval()).withLaps(3).withDirection(Direction.REVERSE),
            NOISY),
        of(
            "reverse",
            "figure eight",
            walk(Shapes.figureEight()).withLaps(2).withDirection(Direction.REVERSE),
            NOISY),
        of("reverse", "hairpin", walk(Shapes.hairpin()).withDirection(Direction.REVERSE), NOISY),
        of("reverse", "out and back", walk(Shapes.straight(800)).withLaps(2), NOISY),
        of(
            "reverse",
            "back and out",
            walk(Shapes.straight(800)).withLaps(2).withDirection(Direction.REVERSE),
            NOISY),
        of(
            "reverse",
            "out and back, gates",
            walk(Shapes.straight(800)).withLaps(4).withGates(50),
            NOISY),
        of("reverse", "hairpin twice", walk(Shapes.hairpin()).withLaps(2), NOISY));
  }

  private static List<Case> interruptions() {
    Receiver gap = NOISY.withGaps(List.of(new Receiver.Gap(200, 120, false)));
    Receiver pause = NOISY.withGaps(List.of(new Receiver.Gap(200, 120, true)));
    Walk eight = walk(Shapes.figureEight());
    Walk oval = walk(Shapes.oval());
    // The crossing of the eight lies at 0 and 377 m.
    List<Walk.Pause> twice = List.of(new Walk.Pause(377, 60), new Walk.Pause(753, 60));
    return List.of(
        of("a minute's stand", "at the crossing", eight.withLaps(2).withPauses(twice), NOISY),
        of(
            "a minute's stand",
            "on the seam",
            oval.withLaps(3).withPauses(List.of(new Walk.Pause(400, 60))),
            NOISY),
        of("two-minute gap", "oval, walk", oval.withLaps(5), gap),
        of("two-minute gap", "oval, run", oval.withLaps(8).withGait(Gait.RUN, 3.5), gap),
        of("two-minute gap", "figure eight", eight.withLaps(3), gap),
        of("two-minute gap", "new segment", oval.withLaps(5), pause));
  }

  private static List<Case> detours() {
    return List.of(
        new Case("detour", "open, back ahead", s -> Detours.ahead(NOISY, s)),
        new Case("detour", "out and back off a loop", s -> Detours.aside(NOISY, 60, s)),
        new Case("detour", "as long as a lap", s -> Detours.aside(NOISY, 200, s)));
  }

  private static List<Case> others() {
    List<Case> all = new ArrayList<>();
    Receiver gaps =
        NOISY.withGaps(List.of(new Receiver.Gap(100, 40, false), new Receiver.Gap(400, 25, true)));
    for (ReferenceCourse course :
        List.of(Shapes.figureEight(), Shapes.oval(), Shapes.hairpin(), Shapes.twoLegs())) {
      Walk walk = walk(course).withLaps(course.closed() ? 3 : 1);
      all.add(
          new Case(
              "outliers",
              course.slug() + ", gaps",
              seed -> simulated(walk, gaps, seed).withOutliers(25, seed)));
    }
    ReferenceCourse part = Shapes.straight(600);
    ReferenceCourse whole = Shapes.prolonged(part, 900);
    all.add(
        new Case(
            "course within a course",
            "run on the whole",
            seed -> simulated(walk(whole), NOISY, seed).among(List.of(part, whole))));
    all.add(
        new Case(
            "course within a course",
            "run on the part",
            seed -> simulated(walk(part), NOISY, seed).among(List.of(part, whole))));
    all.add(
        of(
            "sparse fixes",
            "every 5 s",
            walk(Shapes.figureEight()).withLaps(3).withGait(Gait.RUN, 3.5),
            NOISY.withInterval(5)));
    all.add(
        of(
            "sparse fixes",
            "every 10 s",
            walk(Shapes.oval()).withLaps(6).withGait(Gait.RUN, 3.5),
            NOISY.withInterval(10)));
    Walk eight = walk(Shapes.figureEight()).withLaps(2);
    all.add(
        new Case(
            "without times", "figure eight", seed -> simulated(eight, NOISY, seed).withoutTimes()));
    return all;
  }
}
