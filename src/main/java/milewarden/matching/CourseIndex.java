package milewarden.matching;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import milewarden.course.ReferenceCourse;
import milewarden.track.Track;

/**
 * The courses in force, ready to recognise the one that a track was run on. Safe for use by many
 * threads; a course's matcher is made when a track first comes near it.
 */
public final class CourseIndex {
  // A whole pass covers the line but for what noise hides.
  private static final double WHOLE = 0.9;
  // A broken pass that is on nothing else for most of its time: better measured as incomplete.
  private static final double PART = 0.5;
  private static final double MOSTLY = 0.7;
  // Two courses whose shares of the track differ by less are told apart by distance alone.
  private static final double SAME_SHARE = 0.1;
  private static final double SAME_DISTANCE_M = 5;

  private final List<ReferenceCourse> courses;
  private final List<Extent> extents;
  private final CourseGrid grid;

  private CourseIndex(List<ReferenceCourse> courses) {
    this.courses = List.copyOf(courses);
    extents = this.courses.stream().map(c -> Extent.of(c.line())).toList();
    grid =
        new CourseGrid(this.courses.stream().map(ReferenceCourse::line).toList(), Nearness.NEAR_M);
  }

  /** An index of these courses; may be empty. */
  public static CourseIndex of(List<ReferenceCourse> courses) {
    return new CourseIndex(courses);
  }

  private record Fit(ReferenceCourse course, Nearness near) {
    boolean fits() {
      return near.covered() >= WHOLE || (near.covered() >= PART && near.share() >= MOSTLY);
    }

    /** A whole pass before a broken one, then the course that explains more of the track. */
    double rank() {
      return near.share() + (near.covered() >= WHOLE ? 1 : 0);
    }
  }

  /**
   * The course that the track was run on: the one whose line it covers, and of several the one near
   * which most of the track lies.
   */
  public CourseChoice recognise(Track track) {
    List<Fit> fits = new ArrayList<>();
    int[] sampled = Sampled.of(track);
    BitSet around = grid.around(track, sampled);
    for (int i = around.nextSetBit(0); i >= 0; i = around.nextSetBit(i + 1)) {
      Fit fit = fit(i, track, sampled);
      if (fit.fits()) fits.add(fit);
    }
    return fits.isEmpty() ? new CourseChoice.None(nearest(track, sampled)) : best(fits);
  }

  private Fit fit(int i, Track track, int[] sampled) {
    ReferenceCourse course = courses.get(i);
    return new Fit(course, Nearness.of(CourseMatcher.of(course), track, sampled));
  }

  private static CourseChoice best(List<Fit> fits) {
    fits.sort(Comparator.comparingDouble(Fit::rank).reversed());
    Fit best = fits.get(0);
    List<Fit> rivals =
        new ArrayList<>(fits.stream().filter(f -> f.rank() > best.rank() - SAME_SHARE).toList());
    rivals.sort(Comparator.comparingDouble(f -> f.near().medianM()));
    double closest = rivals.get(0).near().medianM();
    List<ReferenceCourse> left =
        rivals.stream()
            .filter(f -> f.near().medianM() < closest + SAME_DISTANCE_M)
            .map(Fit::course)
            .toList();
    return left.size() == 1
        ? new CourseChoice.Chosen(left.get(0))
        : new CourseChoice.Ambiguous(left);
  }

  /** By ascending least possible distance, until none of the rest can be nearer. */
  private Optional<CourseChoice.Nearest> nearest(Track track, int[] sampled) {
    Extent most = Extent.ofMost(track, sampled);
    double[] least = new double[courses.size()];
    for (int i = 0; i < least.length; i++) least[i] = extents.get(i).apartM(most);
    List<Integer> order =
        IntStream.range(0, least.length)
            .boxed()
            .sorted(Comparator.comparingDouble(i -> least[i]))
            .toList();
    Optional<CourseChoice.Nearest> nearest = Optional.empty();
    for (int i : order) {
      if (nearest.isPresent() && least[i] >= nearest.get().distanceM()) break;
      double distanceM = fit(i, track, sampled).near().medianM();
      if (nearest.isEmpty() || distanceM < nearest.get().distanceM())
        nearest = Optional.of(new CourseChoice.Nearest(courses.get(i).slug(), distanceM));
    }
    return nearest;
  }
}
