package milewarden.simulator;

/**
 * How a device counts its own distance.
 *
 * @param source what it adds up
 * @param scale what the sum is multiplied with; 1.016 reads 1.6 % long
 * @param lost what a device that counts by speed does while it has no position
 * @param stepM the length that it takes a step of the wearer to have, metres, above 0
 * @param idleStepsPerMin steps that it counts a minute while the wearer stands and moves an arm
 */
public record Odometer(
    Source source, double scale, Lost lost, double stepM, double idleStepsPerMin) {
  /** What is added up. */
  public enum Source {
    /** Nothing: the file carries no distance. */
    NONE,
    /** The steps between the recorded positions of one segment. */
    POSITIONS,
    /** The device's true speed over the line, as from a perfect Doppler measurement. */
    SPEED,
    /** The wearer's steps, each taken to be equally long; they need no position. */
    STEPS
  }

  /** What becomes of the distance while there is no position. */
  public enum Lost {
    /** It is counted on: only the file has a hole. */
    GOES_ON,
    /** It stands still. */
    STANDS_STILL,
    /** Steps are counted instead. */
    COUNTS_STEPS
  }

  // Common practice, no source: a grown walker's step.
  private static final double USUAL_STEP_M = 0.74;

  public Odometer {
    if (!(scale > 0)) throw new IllegalArgumentException("scale: " + scale);
    if (!(stepM > 0)) throw new IllegalArgumentException("step: " + stepM);
    if (!(idleStepsPerMin >= 0))
      throw new IllegalArgumentException("idle steps: " + idleStepsPerMin);
  }

  public Odometer(Source source, double scale) {
    this(source, scale, Lost.GOES_ON, USUAL_STEP_M, 0);
  }

  /** Counts steps and takes each to be this long. */
  public static Odometer ofSteps(double stepM) {
    return new Odometer(Source.STEPS, 1, Lost.COUNTS_STEPS, stepM, 0);
  }

  /** Counts by speed, and without a position as said here. */
  public static Odometer ofSpeed(Lost lost, double stepM) {
    return new Odometer(Source.SPEED, 1, lost, stepM, 0);
  }

  public Odometer withIdleSteps(double perMin) {
    return new Odometer(source, scale, lost, stepM, perMin);
  }
}
