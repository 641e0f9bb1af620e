package milewarden.simulator;

import java.time.Instant;
import java.util.List;
import java.util.function.Consumer;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.device.Gait;

/**
 * How the tester covers a course once with everything that is carried along; slopes are not
 * simulated, the way is as long as the horizontal reference. Immutable; start from {@link #of} and
 * change what matters.
 *
 * @param direction of travel; on an open course with several laps that of the first
 * @param laps traversals, 1 or more; on an open course they alternate out and back
 * @param bounds MARKS: stands on the marks while starting and stopping; GATES: comes from {@code
 *     leadM} before the first mark and goes on to {@code leadM} beyond the last
 * @param startChainageM where a closed course is joined, metres; 0 on an open one
 * @param leadM metres before and behind the marks; 0 with marks
 * @param speedMps mean speed in metres per second, above 0
 * @param speedVariation standard deviation of the speed as a part of its mean, 0 to 0.3; it changes
 *     over half a minute
 * @param wanderSigmaM standard deviation of the body beside the line, metres; it changes over 20 s
 * @param standingS seconds on the mark before going and after arriving
 * @param pauses stops on the way, in their order
 * @param detours where the tester leaves the line and comes back
 * @param startedAt when the recordings begin
 */
public record Walk(
    ReferenceCourse course,
    Direction direction,
    int laps,
    Bounds bounds,
    double startChainageM,
    double leadM,
    Gait gait,
    Carriage carriage,
    double speedMps,
    double speedVariation,
    double wanderSigmaM,
    double standingS,
    List<Pause> pauses,
    List<Detour> detours,
    Instant startedAt) {

  /**
   * A stop on the way.
   *
   * @param atM travelled metres from the first mark
   * @param seconds how long the tester stands there
   */
  public record Pause(double atM, double seconds) {}

  /**
   * A way round something: along the line the tester goes on at the same pace, and swings out to
   * the side and back, out sin^2(pi x / length). The way is longer by what is walked sideways.
   *
   * @param atM travelled metres from the first mark
   * @param lengthM along the line, above 0
   * @param outM how far at most, metres, positive to the right of the direction of travel
   */
  public record Detour(double atM, double lengthM, double outM) {
    public Detour {
      if (!(lengthM > 0)) throw new IllegalArgumentException("length: " + lengthM);
    }

    double rightM(double travelledM) {
      double x = (travelledM - atM) / lengthM;
      if (!(x > 0 && x < 1)) return 0;
      double sine = Math.sin(Math.PI * x);
      return outM * sine * sine;
    }
  }

  public Walk {
    pauses = List.copyOf(pauses);
    detours = List.copyOf(detours);
    if (laps < 1) throw new IllegalArgumentException("laps: " + laps);
    if (!(speedMps > 0)) throw new IllegalArgumentException("speed: " + speedMps);
    if (!(leadM >= 0)) throw new IllegalArgumentException("lead: " + leadM);
    if (!(standingS >= 0)) throw new IllegalArgumentException("standing: " + standingS);
    if (!(speedVariation >= 0 && speedVariation <= 0.3))
      throw new IllegalArgumentException("speed variation: " + speedVariation);
    if (!course.closed() && startChainageM != 0)
      throw new IllegalArgumentException("an open course is joined at its end");
  }

  /**
   * One steady forward walk from mark to mark at 1.4 m/s on the line itself, carried fixed, at the
   * first second of 2026.
   */
  public static Walk of(ReferenceCourse course) {
    return new Walk(
        course,
        Direction.FORWARD,
        1,
        Bounds.MARKS,
        0,
        0,
        Gait.WALK,
        Carriage.FIXED,
        1.4,
        0,
        0,
        0,
        List.of(),
        List.of(),
        Instant.parse("2026-01-01T00:00:00Z"));
  }

  public Walk withDirection(Direction to) {
    return with(d -> d.direction = to);
  }

  public Walk withLaps(int to) {
    return with(d -> d.laps = to);
  }

  /** Bounded by gates, {@code lead} metres before and behind the marks. */
  public Walk withGates(double lead) {
    return with(
        d -> {
          d.bounds = Bounds.GATES;
          d.leadM = lead;
        });
  }

  /** Joins a closed course at this chainage. */
  public Walk withStartChainage(double to) {
    return with(d -> d.startChainageM = to);
  }

  public Walk withGait(Gait to, double toSpeedMps) {
    return with(
        d -> {
          d.gait = to;
          d.speedMps = toSpeedMps;
        });
  }

  public Walk withCarriage(Carriage to) {
    return with(d -> d.carriage = to);
  }

  /** Varies the speed by this part of its mean and the body beside the line by this many metres. */
  public Walk withVariation(double speed, double wanderM) {
    return with(
        d -> {
          d.speedVariation = speed;
          d.wanderSigmaM = wanderM;
        });
  }

  /** Stands this many seconds on the first and on the last mark. */
  public Walk withStanding(double seconds) {
    return with(d -> d.standingS = seconds);
  }

  public Walk withPauses(List<Pause> to) {
    return with(d -> d.pauses = to);
  }

  public Walk withDetours(List<Detour> to) {
    return with(d -> d.detours = to);
  }

  public Walk withStart(Instant to) {
    return with(d -> d.startedAt = to);
  }

  private Walk with(Consumer<Draft> change) {
    Draft draft = new Draft(this);
    change.accept(draft);
    return draft.walk();
  }

  /** The true distance from the first mark to the last, metres on the ground. */
  public double referenceM() {
    return laps * course.referenceM();
  }

  double detourM(double travelledM) {
    double sum = 0;
    for (Detour detour : detours) sum += detour.rightM(travelledM);
    return sum;
  }

  /** The components, to be changed one at a time. */
  private static final class Draft {
    ReferenceCourse course;
    Direction direction;
    int laps;
    Bounds bounds;
    double startChainageM;
    double leadM;
    Gait gait;
    Carriage carriage;
    double speedMps;
    double speedVariation;
    double wanderSigmaM;
    double standingS;
    List<Pause> pauses;
    List<Detour> detours;
    Instant startedAt;

    Draft(Walk from) {
      course = from.course;
      direction = from.direction;
      laps = from.laps;
      bounds = from.bounds;
      startChainageM = from.startChainageM;
      leadM = from.leadM;
      gait = from.gait;
      carriage = from.carriage;
      speedMps = from.speedMps;
      speedVariation = from.speedVariation;
      wanderSigmaM = from.wanderSigmaM;
      standingS = from.standingS;
      pauses = from.pauses;
      detours = from.detours;
      startedAt = from.startedAt;
    }

    Walk walk() {
      return new Walk(
          course,
          direction,
          laps,
          bounds,
          startChainageM,
          leadM,
          gait,
          carriage,
          speedMps,
          speedVariation,
          wanderSigmaM,
          standingS,
          pauses,
          detours,
          startedAt);
    }
  }
}
