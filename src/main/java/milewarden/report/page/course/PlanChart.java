package milewarden.report.page.course;

import java.util.ArrayList;
import java.util.List;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.TrackMeasurement;
import milewarden.course.Mark;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.PlanePoint;
import milewarden.geodesy.Position;
import milewarden.report.Digits;

/**
 * A plan in metres, x to the east and y to the north of the course's middle.
 *
 * @param name distinguishes the plans of a page
 */
public record PlanChart(
    String name, List<List<Double>> line, List<Nail> marks, List<Track> tracks) {
  public PlanChart {
    line = List.copyOf(line);
    marks = List.copyOf(marks);
    tracks = List.copyOf(tracks);
  }

  /** What is drawn, and of how much. */
  public String caption() {
    int fixes = tracks.stream().mapToInt(t -> t.points().size()).sum();
    return "Double rule: the measured line through "
        + line.size()
        + " points. Ringed dots: marks, "
        + marks.size()
        + (fixes == 0 ? "." : ". Track: " + fixes + " fixes.");
  }

  /** A mark with its chainage. */
  public record Nail(List<Double> at, String name, String words) {}

  /** A recording; each point with its place on the line, lists alike. */
  public record Track(String name, List<List<Double>> points, List<List<Double>> feet) {
    public Track {
      points = List.copyOf(points);
      feet = List.copyOf(feet);
    }
  }

  /** A course alone. */
  public static PlanChart of(ReferenceCourse course, Digits digits) {
    return of(course, List.of(), digits);
  }

  /** A course alone in a plane about another place than its own middle. */
  public static PlanChart about(ReferenceCourse course, Position middle, Digits digits) {
    LocalPlane plane = LocalPlane.at(middle);
    return new PlanChart(
        course.slug().text(),
        course.line().positions().stream().map(p -> point(plane, p)).toList(),
        marks(course, plane, digits),
        List.of());
  }

  /** A course with passes over it. */
  public static PlanChart of(
      ReferenceCourse course, List<PassMeasurement.Profile> passes, Digits digits) {
    LocalPlane plane = LocalPlane.at(course.line().middle());
    return new PlanChart(
        course.slug().text(),
        course.line().positions().stream().map(p -> point(plane, p)).toList(),
        marks(course, plane, digits),
        passes.stream().map(p -> track(p, course, plane)).toList());
  }

  /**
   * A recording over a course, for a plan of several.
   *
   * @param name of the unit and the pass
   */
  public record Carried(String name, int pass, TrackMeasurement found) {}

  /** A course with the tracks of several devices; without their feet, which would be a thicket. */
  public static PlanChart together(ReferenceCourse course, List<Carried> carried, Digits digits) {
    LocalPlane plane = LocalPlane.at(course.line().middle());
    List<Track> tracks = new ArrayList<>();
    for (Carried c : carried)
      for (PassMeasurement pass : c.found().passes())
        if (pass.index() == c.pass()) {
          PassMeasurement.Profile p = pass.profile();
          List<List<Double>> points = new ArrayList<>();
          for (int i = 0; i < p.latitudeDeg().size(); i++)
            points.add(point(plane, new Position(p.latitudeDeg().get(i), p.longitudeDeg().get(i))));
          tracks.add(new Track(c.name(), points, List.of()));
        }
    return new PlanChart(
        course.slug().text(),
        course.line().positions().stream().map(p -> point(plane, p)).toList(),
        marks(course, plane, digits),
        tracks);
  }

  private static List<Nail> marks(ReferenceCourse course, LocalPlane plane, Digits digits) {
    List<Nail> nails = new ArrayList<>();
    if (course.marks().isEmpty()) {
      List<Position> line = course.line().positions();
      nails.add(new Nail(point(plane, line.get(0)), "start", "start, " + digits.ground(0)));
      if (!course.closed())
        nails.add(
            new Nail(
                point(plane, line.get(line.size() - 1)),
                "finish",
                "finish, " + digits.ground(course.referenceM())));
    }
    for (Mark m : course.marks()) {
      String where = m.chainageM().isPresent() ? digits.ground(m.chainageM().getAsDouble()) : "";
      String role = m.role().name().toLowerCase(java.util.Locale.ROOT);
      String name = m.name().isBlank() ? role : m.name();
      nails.add(
          new Nail(point(plane, m.position()), name, where.isEmpty() ? name : name + ", " + where));
    }
    return nails;
  }

  private static Track track(PassMeasurement.Profile p, ReferenceCourse course, LocalPlane plane) {
    List<List<Double>> points = new ArrayList<>();
    List<List<Double>> feet = new ArrayList<>();
    Foot foot = new Foot(course, plane);
    for (int i = 0; i < p.latitudeDeg().size(); i++) {
      points.add(point(plane, new Position(p.latitudeDeg().get(i), p.longitudeDeg().get(i))));
      feet.add(foot.at(p.chainageM().get(i)));
    }
    return new Track("track", points, feet);
  }

  private static List<Double> point(LocalPlane plane, Position p) {
    PlanePoint at = plane.project(p.latitudeDeg(), p.longitudeDeg());
    return List.of(centimetres(at.xM()), centimetres(at.yM()));
  }

  static double centimetres(double metres) {
    return Math.round(100 * metres) / 100.0;
  }

  /** Where a chainage lies on the drawn line. */
  private static final class Foot {
    private final List<PlanePoint> line;
    private final double[] chainages;
    private final double lengthM;
    private final double referenceM;

    Foot(ReferenceCourse course, LocalPlane plane) {
      line =
          course.line().positions().stream()
              .map(p -> plane.project(p.latitudeDeg(), p.longitudeDeg()))
              .toList();
      chainages = course.line().chainagesM();
      lengthM = chainages[chainages.length - 1];
      referenceM = course.referenceM();
    }

    List<Double> at(double chainageM) {
      // A lap's chainage begins again at the mark.
      double on = chainageM / referenceM * lengthM;
      double s = on > lengthM ? on % lengthM : Math.max(0, on);
      int i = 1;
      while (i < chainages.length - 1 && chainages[i] < s) i++;
      double part = chainages[i] - chainages[i - 1];
      double t = part > 0 ? (s - chainages[i - 1]) / part : 0;
      PlanePoint a = line.get(i - 1);
      PlanePoint b = line.get(i);
      return List.of(
          centimetres(a.xM() + t * (b.xM() - a.xM())), centimetres(a.yM() + t * (b.yM() - a.yM())));
    }
  }
}
