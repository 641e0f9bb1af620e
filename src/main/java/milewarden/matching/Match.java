package milewarden.matching;

import java.util.List;
import milewarden.matching.line.CourseLine;

/**
 * A track on a course: chainage and offset of every fix, and the stretches in which the walker kept
 * a direction. Lengths in metres on the ellipsoid, as the line was drawn.
 *
 * <p>Immutable; the array accessors hand out the match's own arrays, which are never written to.
 */
public final class Match {
  private final double lengthM;
  private final boolean closed;
  private final double[] chainageM;
  private final double[] offsetM;
  private final double[] headingRad;
  private final double[] placeM;
  private final List<Stretch> stretches;
  private final double share;
  private final boolean directionSure;

  Match(
      CourseLine line,
      double[] chainageM,
      double[] offsetM,
      double[] headingRad,
      double[] placeM,
      List<Stretch> stretches,
      double share,
      boolean directionSure) {
    this.lengthM = line.lengthM();
    this.closed = line.closed();
    this.chainageM = chainageM;
    this.offsetM = offsetM;
    this.headingRad = headingRad;
    this.placeM = placeM;
    this.stretches = List.copyOf(stretches);
    this.share = share;
    this.directionSure = directionSure;
  }

  /**
   * Fixes between which the walker went one way.
   *
   * @param first fix
   * @param last fix; above first
   * @param direction 1 with increasing chainage, -1 against it
   * @param turnedIn true where the walker turned round here, false where the place is not known
   *     before
   * @param turnedOut the same of its end
   */
  public record Stretch(int first, int last, int direction, boolean turnedIn, boolean turnedOut) {}

  /** L of the line as drawn, geodesic. */
  public double lengthM() {
    return lengthM;
  }

  public boolean closed() {
    return closed;
  }

  /** Unrolled: goes on over laps, below 0 and above L beyond the ends of an open course. */
  public double[] chainageM() {
    return chainageM;
  }

  /** Right of increasing chainage positive. */
  public double[] offsetM() {
    return offsetM;
  }

  /** Heading of the line at the matched point, clockwise, unwound over laps, radians. */
  public double[] headingRad() {
    return headingRad;
  }

  /**
   * The smoothed chainage that chose the place; it never runs backwards but where the walker turns.
   */
  public double[] placeM() {
    return placeM;
  }

  /** In order of time; empty where the track is nowhere near the course. */
  public List<Stretch> stretches() {
    return stretches;
  }

  /** Share of the track's places that have the line within reach (50 m), 0 to 1. */
  public double nearShare() {
    return share;
  }

  /**
   * False where the track fits the course the other way round as well, and nobody said which way it
   * was: on two legs side by side under much noise.
   */
  public boolean directionSure() {
    return directionSure;
  }
}
