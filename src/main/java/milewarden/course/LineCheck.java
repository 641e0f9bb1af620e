package milewarden.course;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.PlanePoint;
import milewarden.geodesy.Position;

/**
 * The drawn line against what was measured: as a whole, and between marks whose chainage is known.
 *
 * @param drawnM length of the line brought to the ground
 * @param measuredM the horizontal reference of one traversal
 * @param stretches from mark to mark in order of chainage; empty where fewer than two are known
 */
public record LineCheck(double drawnM, double measuredM, List<Stretch> stretches) {
  /** Of a course without control points there is only the whole to compare. */
  private static final int FEWEST_MARKS = 2;

  /** A mark is looked for this share of the course from where it should be: our own bound. */
  private static final double AROUND = 0.1;

  public LineCheck {
    stretches = List.copyOf(stretches);
  }

  /**
   * Between two marks.
   *
   * @param drawnM along the line between the feet of the marks
   * @param measuredM difference of their chainages
   */
  public record Stretch(
      String from, String to, double fromM, double toM, double drawnM, double measuredM) {
    /** Drawn against measured, in percent. */
    public double apartPercent() {
      return 100 * (drawnM / measuredM - 1);
    }

    public double apartM() {
      return drawnM - measuredM;
    }
  }

  /** Drawn against measured, in percent. */
  public double apartPercent() {
    return 100 * (drawnM / measuredM - 1);
  }

  /** The stretch that parts most in metres; empty where there is none. */
  public Optional<Stretch> worst() {
    return stretches.stream().max(Comparator.comparingDouble(s -> Math.abs(s.apartM())));
  }

  /** Checks a course; marks without a chainage say nothing. */
  public static LineCheck of(ReferenceCourse course) {
    double drawn = course.ellipsoidLengthM() * course.groundFactor();
    List<Located> at = located(course, drawn);
    List<Stretch> stretches = new ArrayList<>();
    if (at.size() >= FEWEST_MARKS)
      for (int i = 1; i < at.size(); i++) stretches.add(stretch(at.get(i - 1), at.get(i)));
    return new LineCheck(drawn, course.horizontalM(), stretches);
  }

  private record Located(String name, double chainageM, double alongM) {}

  private static Stretch stretch(Located a, Located b) {
    return new Stretch(
        a.name, b.name, a.chainageM, b.chainageM, b.alongM - a.alongM, b.chainageM - a.chainageM);
  }

  private static List<Located> located(ReferenceCourse course, double drawn) {
    Projected line = new Projected(course);
    List<Located> at = new ArrayList<>();
    boolean controls = course.marks().stream().anyMatch(m -> m.role() == Mark.Role.CONTROL);
    if (!controls) return List.of();
    at.add(new Located("start", 0, 0));
    course.marks().stream()
        .filter(m -> m.role() == Mark.Role.CONTROL && m.chainageM().isPresent())
        .sorted(Comparator.comparingDouble(m -> m.chainageM().getAsDouble()))
        .forEach(
            m -> {
              double chainage = m.chainageM().getAsDouble();
              double share = chainage / course.referenceM();
              if (share <= 0 || share >= 1) return;
              double last = at.get(at.size() - 1).chainageM;
              if (chainage <= last) return;
              String name = m.name().isBlank() ? "control" : m.name();
              at.add(new Located(name, chainage, line.along(m.position(), share) * drawn));
            });
    at.add(new Located(course.closed() ? "start again" : "finish", course.horizontalM(), drawn));
    return at.size() > FEWEST_MARKS ? at : List.of();
  }

  /** The line in a plane, to find the foot of a mark on it. */
  private static final class Projected {
    private final LocalPlane plane;
    private final List<PlanePoint> points;
    private final double[] chainages;

    Projected(ReferenceCourse course) {
      plane = LocalPlane.at(course.line().middle());
      points =
          course.line().positions().stream()
              .map(p -> plane.project(p.latitudeDeg(), p.longitudeDeg()))
              .toList();
      chainages = course.line().chainagesM();
    }

    /** Share of the line at which the foot of a place lies, near to where it should. */
    double along(Position place, double share) {
      PlanePoint at = plane.project(place.latitudeDeg(), place.longitudeDeg());
      double total = chainages[chainages.length - 1];
      double best = share;
      double nearest = Double.POSITIVE_INFINITY;
      for (int i = 1; i < chainages.length; i++) {
        if (chainages[i] < (share - AROUND) * total || chainages[i - 1] > (share + AROUND) * total)
          continue;
        PlanePoint a = points.get(i - 1);
        PlanePoint b = points.get(i);
        double dx = b.xM() - a.xM();
        double dy = b.yM() - a.yM();
        double square = dx * dx + dy * dy;
        if (square == 0) continue;
        double t =
            Math.max(0, Math.min(1, ((at.xM() - a.xM()) * dx + (at.yM() - a.yM()) * dy) / square));
        double off = Math.hypot(at.xM() - a.xM() - t * dx, at.yM() - a.yM() - t * dy);
        if (off >= nearest) continue;
        nearest = off;
        best = (chainages[i - 1] + t * (chainages[i] - chainages[i - 1])) / total;
      }
      return best;
    }
  }
}
