package milewarden.course.draft;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import milewarden.course.Mark;
import milewarden.course.ReferenceCourse;
import milewarden.course.SkyView;
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
 * @param walks how many recordings or drawn lines it was made from
 * @param traversals how many times they went over the course; they were averaged
 * @param apartM root mean square distance of the traversals from their mean; 0 where there is one
 * @param recordedM length of the recorded path per traversal
 * @param drawnM length of the drawn line
 * @param smoothingM standard deviation of the smoothing that made them agree
 * @param toleranceM how far the simplified line may lie from the smoothed one
 */
public record CourseDraft(
    ReferenceCourse course,
    int walks,
    int traversals,
    double apartM,
    double recordedM,
    double drawnM,
    double smoothingM,
    double toleranceM) {
  /** Half a step of a walker's noise; a tenth of it would keep every wiggle: our own choice. */
  public static final double TOLERANCE_M = 0.25;

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
    return from(List.of(recorded), request, TOLERANCE_M);
  }

  /**
   * Drafts a course from several recordings over it, in any direction and, of a loop, from any
   * start; the first one's stand. Each traversal counts alike.
   *
   * @param recordings at least one, each with one valid position or more
   * @param toleranceM how far the simplified line may lie from the smoothed one, above 0
   */
  public static DraftResult from(
      List<List<Position>> recordings, DraftRequest request, double toleranceM) {
    LocalPlane plane = LocalPlane.at(new Polyline(twoOrMore(recordings)).middle());
    List<DraftLine> paths = new ArrayList<>();
    for (List<Position> recorded : recordings) {
      DraftLine path = projected(recorded, plane).thinned(THINNING_M);
      if (path.size() < FEWEST_PLACES) return tooFew(path.size());
      paths.add(path);
    }
    double measured = request.measured().metres();
    Walks found = Walks.of(paths, measured, request.closed());
    boolean closed = found.line().closed();
    if (closed && opening(paths.get(0)) > 2 * Traversals.nearM(measured))
      return failed(
          DraftResult.Reason.NOT_A_LOOP, "ends %.0f m from its start", opening(paths.get(0)));
    double raw = found.line().simplified(toleranceM).length();
    if (raw < measured * (1 - REFUSED))
      return failed(DraftResult.Reason.PATH_SHORTER, LENGTHS, raw, measured);
    double width = width(found.line(), measured, toleranceM);
    DraftLine line = found.line().smoothed(width).simplified(toleranceM);
    if (Math.abs(measured / line.length() - 1) > REFUSED)
      return failed(DraftResult.Reason.PATH_LONGER, LENGTHS, line.length(), measured);
    ReferenceCourse course = course(request, line, plane, RECORDED);
    return new DraftResult.Drafted(
        new CourseDraft(
            course,
            recordings.size(),
            found.count(),
            found.apartM(),
            found.recordedM(),
            course.ellipsoidLengthM(),
            width,
            toleranceM));
  }

  /**
   * A course from a line that somebody drew: nothing is smoothed, so it has to be as long as was
   * measured.
   *
   * @param drawn two positions or more
   * @param toleranceM how far the simplified line may lie from the drawn one; 0 keeps every vertex
   */
  public static DraftResult drawn(List<Position> drawn, DraftRequest request, double toleranceM) {
    if (drawn.size() < 2) return tooFew(drawn.size());
    LocalPlane plane = LocalPlane.at(new Polyline(drawn).middle());
    DraftLine path = projected(drawn, plane);
    double measured = request.measured().metres();
    boolean closed = request.closed().orElse(opening(path) <= Traversals.nearM(measured));
    if (closed && opening(path) > 2 * Traversals.nearM(measured))
      return failed(DraftResult.Reason.NOT_A_LOOP, "ends %.0f m from its start", opening(path));
    int last = path.size() - 1;
    boolean repeated = closed && path.size() > 2 && opening(path) < 1e-6;
    DraftLine whole = repeated ? path.part(0, last - 1) : path;
    DraftLine line =
        new DraftLine(whole.x(), whole.y(), closed).simplified(Math.max(0, toleranceM));
    if (line.length() < measured * (1 - REFUSED))
      return failed(DraftResult.Reason.PATH_SHORTER, LENGTHS, line.length(), measured);
    if (line.length() > measured * (1 + REFUSED))
      return failed(DraftResult.Reason.PATH_LONGER, LENGTHS, line.length(), measured);
    ReferenceCourse course = course(request, line, plane, DRAWN);
    return new DraftResult.Drafted(
        new CourseDraft(course, 1, 1, 0, path.length(), course.ellipsoidLengthM(), 0, toleranceM));
  }

  private static List<Position> twoOrMore(List<List<Position>> recordings) {
    List<Position> all = new ArrayList<>();
    for (List<Position> each : recordings) all.addAll(each);
    if (all.size() == 1) all.add(all.get(0));
    return all;
  }

  private static DraftLine projected(List<Position> positions, LocalPlane plane) {
    double[] x = new double[positions.size()];
    double[] y = new double[positions.size()];
    for (int i = 0; i < x.length; i++)
      plane.project(positions.get(i).latitudeDeg(), positions.get(i).longitudeDeg(), x, y, i);
    return new DraftLine(x, y, false);
  }

  private static final String RECORDED =
      "First draft of the line from recorded tracks: draw or survey it better when you can.";

  private static final String DRAWN = "The line was drawn, not recorded.";

  private static final String LENGTHS = "the path is %.1f m long, measured are %.1f m";

  /** This draft with the SHA-256 of a recording that it was made from, beside those before. */
  public CourseDraft withSource(String sha256) {
    Map<String, String> others = new HashMap<>(course.otherProperties());
    others.merge(
        ReferenceCourse.DRAFTED_FROM,
        "\"" + sha256 + "\"",
        (old, next) -> old.substring(0, old.length() - 1) + " " + next.substring(1));
    return new CourseDraft(
        course.withOtherProperties(others),
        walks,
        traversals,
        apartM,
        recordedM,
        drawnM,
        smoothingM,
        toleranceM);
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
  private static double width(DraftLine line, double measured, double toleranceM) {
    double low = 0;
    double high = Math.min(WIDEST_M, measured / 10);
    if (line.simplified(toleranceM).length() <= measured) return 0;
    for (int round = 0; round < 24; round++) {
      double middle = (low + high) / 2;
      if (line.smoothed(middle).simplified(toleranceM).length() > measured) low = middle;
      else high = middle;
    }
    return high;
  }

  private static ReferenceCourse course(
      DraftRequest request, DraftLine line, LocalPlane plane, String notes) {
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
        notes,
        Map.of());
  }

  private static double rounded(double degrees) {
    return Math.round(degrees / DEGREES) * DEGREES;
  }
}
