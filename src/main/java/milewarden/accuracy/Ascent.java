package milewarden.accuracy;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.track.Track;

/**
 * How much a pass climbed by the heights that the device wrote; a measure of its own that enters no
 * distance.
 *
 * @param trackM sum of the climbs of the recorded heights, metres, not negative
 * @param courseM the same of the course's height profile over the same way; empty without one
 * @param deadBandM only climbs of more than this count, in both
 */
public record Ascent(double trackM, OptionalDouble courseM, double deadBandM) {
  // Common practice, no source: above the noise of a pressure sensor, below that of a receiver.
  private static final double DEAD_BAND_M = 3;

  /**
   * Of the fixes from {@code first} to {@code last}; empty where fewer than half of them, or fewer
   * than two, have a height.
   */
  static Optional<Ascent> of(
      Track track, int first, int last, ReferenceCourse course, Direction direction, int laps) {
    double[] all = track.heightsM();
    if (all.length == 0 || last <= first) return Optional.empty();
    double[] heights = new double[last - first + 1];
    int n = 0;
    for (int i = first; i <= last; i++) if (Double.isFinite(all[i])) heights[n++] = all[i];
    if (n < 2 || 2 * n < heights.length) return Optional.empty();
    return Optional.of(
        new Ascent(
            climbedM(Arrays.copyOf(heights, n), DEAD_BAND_M),
            ofCourse(course, direction, laps),
            DEAD_BAND_M));
  }

  private static OptionalDouble ofCourse(ReferenceCourse course, Direction direction, int laps) {
    List<ReferenceCourse.HeightPoint> profile = course.heightProfile();
    if (profile.size() < 2) return OptionalDouble.empty();
    int n = profile.size();
    double[] heights = new double[n * laps];
    for (int i = 0; i < heights.length; i++)
      heights[i] = profile.get(direction == Direction.FORWARD ? i % n : n - 1 - i % n).heightM();
    return OptionalDouble.of(climbedM(heights, DEAD_BAND_M));
  }

  /**
   * Sum of the climbs of more than a dead band, each from its foot to its top; a dip within the
   * band ends no climb.
   *
   * @param heights metres, finite, in order
   * @param bandM 0 or above; with 0 it is the sum of all rises
   */
  static double climbedM(double[] heights, double bandM) {
    double sum = 0;
    double foot = Double.POSITIVE_INFINITY;
    double top = Double.NaN;
    boolean climbing = false;
    for (double h : heights) {
      if (climbing) {
        if (h > top) top = h;
        else if (top - h > bandM) {
          sum += top - foot;
          foot = h;
          climbing = false;
        }
      } else if (h < foot) {
        foot = h;
      } else if (h - foot > bandM) {
        top = h;
        climbing = true;
      }
    }
    return climbing ? sum + top - foot : sum;
  }
}
