package milewarden.matching;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.track.Track;

/** The courses in force, ready to recognise the one that a track was run on. Immutable. */
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
  private final List<CourseMatcher> matchers = new ArrayList<>();

  private CourseIndex(List<ReferenceCourse> courses) {
    this.courses = List.copyOf(courses);
    for (ReferenceCourse c : courses) matchers.add(CourseMatcher.of(c));
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
    Optional<CourseChoice.Nearest> nearest = Optional.empty();
    for (int i = 0; i < courses.size(); i++) {
      Fit fit = new Fit(courses.get(i), Nearness.of(matchers.get(i), track));
      double distanceM = fit.near().medianM();
      if (nearest.isEmpty() || distanceM < nearest.get().distanceM())
        nearest = Optional.of(new CourseChoice.Nearest(courses.get(i).slug(), distanceM));
      if (fit.fits()) fits.add(fit);
    }
    if (fits.isEmpty()) return new CourseChoice.None(nearest);
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
}
