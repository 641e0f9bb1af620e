package milewarden.simulator;

import java.time.Instant;
import java.util.List;
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
    Instant startedAt) {

  /**
   * A stop on the way.
   *
   * @param atM travelled metres from the first mark
   * @param seconds how long the tester stands there
   */
  public record Pause(double atM, double seconds) {}

  public Walk {
    pauses = List.copyOf(pauses);
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
        Instant.parse("2026-01-01T00:00:00Z"));
  }

  public Walk withDirection(Direction to) {
    return new Walk(
        course,
        to,
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
        startedAt);
  }

  public Walk withLaps(int to) {
    return new Walk(
        course,
        direction,
        to,
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
        startedAt);
  }

  /** Bounded by gates, {@code lead} metres before and behind the marks. */
  public Walk withGates(double lead) {
    return new Walk(
        course,
        direction,
        laps,
        Bounds.GATES,
        startChainageM,
        lead,
        gait,
        carriage,
        speedMps,
        speedVariation,
        wanderSigmaM,
        standingS,
        pauses,
        startedAt);
  }

  /** Joins a closed course at this chainage. */
  public Walk withStartChainage(double to) {
    return new Walk(
        course,
        direction,
        laps,
        bounds,
        to,
        leadM,
        gait,
        carriage,
        speedMps,
        speedVariation,
        wanderSigmaM,
        standingS,
        pauses,
        startedAt);
  }

  public Walk withGait(Gait to, double toSpeedMps) {
    return new Walk(
        course,
        direction,
        laps,
        bounds,
        startChainageM,
        leadM,
        to,
        carriage,
        toSpeedMps,
        speedVariation,
        wanderSigmaM,
        standingS,
        pauses,
        startedAt);
  }

  public Walk withCarriage(Carriage to) {
    return new Walk(
        course,
        direction,
        laps,
        bounds,
        startChainageM,
        leadM,
        gait,
        to,
        speedMps,
        speedVariation,
        wanderSigmaM,
        standingS,
        pauses,
        startedAt);
  }

  /** Varies the speed by this part of its mean and the body beside the line by this many metres. */
  public Walk withVariation(double speed, double wanderM) {
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
        speed,
        wanderM,
        standingS,
        pauses,
        startedAt);
  }

  /** Stands this many seconds on the first and on the last mark. */
  public Walk withStanding(double seconds) {
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
        seconds,
        pauses,
        startedAt);
  }

  public Walk withPauses(List<Pause> to) {
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
        to,
        startedAt);
  }

  public Walk withStart(Instant to) {
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
        to);
  }

  /** The true distance from the first mark to the last, metres on the ground. */
  public double referenceM() {
    return laps * course.referenceM();
  }
}
