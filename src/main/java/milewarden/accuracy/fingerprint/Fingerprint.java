package milewarden.accuracy.fingerprint;

import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;

/**
 * A habit of a device, as far as one pass shows it, or several that are read as one.
 *
 * @param kind which habit; it settles the unit and what {@code n} counts
 * @param presence whether the evidence settles that the habit is there
 * @param value the best estimate in the kind's unit; empty where nothing can be estimated
 * @param low lower end of the 95 % interval, from the errors of the positions as they last over
 *     time; empty with the value
 * @param high upper end; may be infinite in the estimate, then empty here
 * @param n pieces of evidence, 0 or more
 */
public record Fingerprint(
    Kind kind,
    Presence presence,
    OptionalDouble value,
    OptionalDouble low,
    OptionalDouble high,
    int n) {

  /** Which habit, in the order in which they are told. */
  public enum Kind {
    /** Seconds by which a smoothing filter runs late; n: bends passed. */
    SMOOTHING_LAG,
    /**
     * Metres by which a filter that carries a speed along takes the track to the outside of a bend
     * at most, mean over the bends; n: bends passed.
     */
    TURN_OVERSHOOT,
    /** Size of the grid on which all positions lie, degrees, known exactly; n: fixes. */
    COARSE_POSITIONS,
    /** Standard deviation of the offsets about the line, metres; n: fixes. */
    SNAPPED_TO_LINE,
    /**
     * Percent of the recorded distance that was counted from steps; n: windows, gaps and stands.
     */
    COUNTED_FROM_STEPS
  }

  /** What the evidence says. */
  public enum Presence {
    /** The habit is there: an interval of 95 % lies wholly where there is one. */
    PRESENT,
    /** It is not there, or too small to matter. */
    ABSENT,
    /** The evidence does not tell. */
    UNSETTLED
  }

  public Fingerprint {
    if (n < 0) throw new IllegalArgumentException("n: " + n);
    if (presence == Presence.PRESENT && value.isEmpty())
      throw new IllegalArgumentException("present without a value");
    if (low.isPresent() && value.isPresent() && low.getAsDouble() > value.getAsDouble())
      throw new IllegalArgumentException("low above the value");
    if (high.isPresent() && value.isPresent() && high.getAsDouble() < value.getAsDouble())
      throw new IllegalArgumentException("high below the value");
  }

  /** An estimate with its interval; an end that is not finite is left out. */
  public static Fingerprint of(
      Kind kind, Presence presence, double value, double low, double high, int n) {
    return new Fingerprint(kind, presence, finite(value), finite(low), finite(high), n);
  }

  /** Nothing can be estimated from {@code n} pieces of evidence. */
  public static Fingerprint unsettled(Kind kind, int n) {
    return new Fingerprint(
        kind,
        Presence.UNSETTLED,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        n);
  }

  /**
   * Of several passes the one that tells most: the narrowest interval, with all evidence counted.
   * Nothing is averaged, since what passes share (the course, the sky) does not average out.
   *
   * @param all of one kind, one or more
   */
  public static Fingerprint clearest(List<Fingerprint> all) {
    Fingerprint best =
        all.stream().min(Comparator.comparingDouble(Fingerprint::width)).orElseThrow();
    int n = all.stream().mapToInt(Fingerprint::n).sum();
    return new Fingerprint(best.kind, best.presence, best.value, best.low, best.high, n);
  }

  private double width() {
    return low.isPresent() && high.isPresent()
        ? high.getAsDouble() - low.getAsDouble()
        : Double.POSITIVE_INFINITY;
  }

  public boolean present() {
    return presence == Presence.PRESENT;
  }

  private static OptionalDouble finite(double value) {
    return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
  }
}
