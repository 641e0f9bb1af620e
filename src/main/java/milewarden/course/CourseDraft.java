package milewarden.course;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import milewarden.geodesy.LocalPlane;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;

/**
 * A first centreline made from a recorded track and a measured length.
 *
 * <p>Method: points nearer than 5 m to the one before are left out (standing still); the path is
 * cut into as many traversals as the measured length goes into it, each resampled at equal
 * distances, and they are averaged. A recorded path reads long by its noise, so the mean line is
 * smoothed by a Gaussian just wide enough that the line, simplified within 0.25 m, is as long as
 * was measured. That the two agree is therefore no evidence that the line is right, and offsets of
 * the same recording from it say nothing.
 *
 * @param course with an empty version: its file, once written and read, has one
 * @param traversals how many times the track went over the course; they were averaged
 * @param recordedM length of the recorded path per traversal
 * @param drawnM length of the drawn line
 * @param smoothingM standard deviation of the smoothing that made them agree
 * @param toleranceM how far the simplified line may lie from the smoothed one
 */
public record CourseDraft(
    ReferenceCourse course,
    int traversals,
    double recordedM,
    double drawnM,
    double smoothingM,
    double toleranceM) {
  /** The property of the file that names the recording by its SHA-256. */
  public static final String SOURCE_PROPERTY = "drafted_from";

  /** Half a step of a walker's noise; a tenth of it would keep every wiggle: our own choice. */
  private static final double TOLERANCE_M = 0.25;

  private static final double THINNING_M = 5;
  private static final int FEWEST_PLACES = 8;

  /** Wider smoothing rounds the course's own bends away: our own choice. */
  private static final double WIDEST_M = 20;

  /** The deviation at which a course file is refused. */
  private static final double REFUSED = 0.005;

  /** 1 mm in degrees of latitude: more decimals would pretend more. */
  private static final double DEGREES = 1e-8;

  /**
   * Drafts a course from positions in order of recording, segments joined.
   *
   * @param recorded valid positions, at least one
   */
  public static DraftResult from(List<Position> recorded, DraftRequest request) {
    if (recorded.size() < FEWEST_PLACES) return tooFew(recorded.size());
    LocalPlane plane = LocalPlane.at(new Polyline(recorded).middle());
    double[] x = new double[recorded.size()];
    double[] y = new double[recorded.size()];
    for (int i = 0; i < x.length; i++)
      plane.project(recorded.get(i).latitudeDeg(), recorded.get(i).longitudeDeg(), x, y, i);
    DraftLine path = new DraftLine(x, y, false).thinned(THINNING_M);
    if (path.size() < FEWEST_PLACES) return tooFew(path.size());
    double measured = request.measured().metres();
    Traversals found = Traversals.of(path, measured, request.closed());
    boolean closed = found.line().closed();
    if (closed && opening(path) > 2 * Traversals.nearM(measured))
      return failed(DraftResult.Reason.NOT_A_LOOP, "ends %.0f m from its start", opening(path));
    double raw = found.line().simplified(TOLERANCE_M).length();
    if (raw < measured * (1 - REFUSED))
      return failed(DraftResult.Reason.PATH_SHORTER, LENGTHS, raw, measured);
    double width = width(found.line(), measured);
    DraftLine line = found.line().smoothed(width).simplified(TOLERANCE_M);
    if (Math.abs(measured / line.length() - 1) > REFUSED)
      return failed(DraftResult.Reason.PATH_LONGER, LENGTHS, line.length(), measured);
    ReferenceCourse course = course(request, line, plane);
    return new DraftResult.Drafted(
        new CourseDraft(
            course,
            found.count(),
            found.recordedM(),
            course.ellipsoidLengthM(),
            width,
            TOLERANCE_M));
  }

  private static final String LENGTHS = "the path is %.1f m long, measured are %.1f m";

  /** This draft with the SHA-256 of the recording that it was made from. */
  public CourseDraft withSource(String sha256) {
    Map<String, String> others = new HashMap<>(course.otherProperties());
    others.put(SOURCE_PROPERTY, "\"" + sha256 + "\"");
    return new CourseDraft(
        course.withOtherProperties(others), traversals, recordedM, drawnM, smoothingM, toleranceM);
  }

  private static DraftResult tooFew(int places) {
    return failed(
        DraftResult.Reason.TOO_FEW_FIXES,
        "%d places 5 m apart, %d are needed",
        places,
        FEWEST_PLACES);
  }

  private static DraftResult failed(DraftResult.Reason reason, String detail, Object... numbers) {
    return new DraftResult.Failed(reason, String.format(Locale.ROOT, detail, numbers));
  }

  private static double opening(DraftLine path) {
    int last = path.size() - 1;
    return Math.hypot(path.x()[last] - path.x()[0], path.y()[last] - path.y()[0]);
  }

  /** The narrowest smoothing that brings the simplified line down to the measured length. */
  private static double width(DraftLine line, double measured) {
    double low = 0;
    double high = Math.min(WIDEST_M, measured / 10);
    if (line.simplified(TOLERANCE_M).length() <= measured) return 0;
    for (int round = 0; round < 24; round++) {
      double middle = (low + high) / 2;
      if (line.smoothed(middle).simplified(TOLERANCE_M).length() > measured) low = middle;
      else high = middle;
    }
    return high;
  }

  private static ReferenceCourse course(DraftRequest request, DraftLine line, LocalPlane plane) {
    List<Position> positions = new ArrayList<>();
    for (int i = 0; i < line.size(); i++) {
      Position p = plane.position(line.x()[i], line.y()[i]);
      positions.add(new Position(rounded(p.latitudeDeg()), rounded(p.longitudeDeg())));
    }
    if (line.closed()) positions.add(positions.get(0));
    double measured = request.measured().metres();
    Position last = positions.get(positions.size() - 1);
    return new ReferenceCourse(
        request.slug(),
        "",
        request.name(),
        line.closed(),
        new Polyline(positions),
        List.of(
            new Mark(Mark.Role.START, positions.get(0), OptionalDouble.of(0), ""),
            new Mark(Mark.Role.FINISH, last, OptionalDouble.of(measured), "")),
        measured,
        request.standardUncertainty().map(u -> u.metres()).orElse(measured / 1000),
        request.measuredOn(),
        request.measuredBy(),
        request.method(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        List.of(),
        OptionalDouble.empty(),
        "",
        SkyView.OPEN,
        "First draft of the line from a recorded track: draw or survey it better when you can.",
        Map.of());
  }

  private static double rounded(double degrees) {
    return Math.round(degrees / DEGREES) * DEGREES;
  }
}
