package milewarden.matching;

import java.util.List;
import java.util.OptionalInt;

/**
 * The passes of a recording.
 *
 * @param spans in order of time
 * @param partials laps that were begun or ended on the way, left out
 * @param guessed true where nobody said by what the passes are bounded
 * @param covered the largest share of the course that was covered in one direction, 0 and above
 * @param lapsSeen laps or traversals that the positions show, where the tester said another number
 * @param directionSure false where the positions fit the other way round as well, and nobody said
 *     which it was
 */
public record Passes(
    List<PassSpan> spans,
    List<Partial> partials,
    boolean guessed,
    double covered,
    OptionalInt lapsSeen,
    boolean directionSure) {
  public Passes {
    spans = List.copyOf(spans);
    partials = List.copyOf(partials);
  }

  /**
   * A lap that is not whole.
   *
   * @param first true for one before the first whole lap, false for one after the last
   * @param lengthM metres on the ellipsoid
   */
  public record Partial(boolean first, double lengthM) {}
}
