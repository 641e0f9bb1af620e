package milewarden.simulator;

/**
 * How a device counts its own distance.
 *
 * @param source what it adds up
 * @param scale what the sum is multiplied with; 1.016 reads 1.6 % long
 */
public record Odometer(Source source, double scale) {
  /** What is added up. */
  public enum Source {
    /** Nothing: the file carries no distance. */
    NONE,
    /** The steps between the recorded positions of one segment. */
    POSITIONS,
    /** The device's true speed over the line, as from a perfect Doppler measurement. */
    SPEED
  }

  public Odometer {
    if (!(scale > 0)) throw new IllegalArgumentException("scale: " + scale);
  }
}
