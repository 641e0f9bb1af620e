package milewarden.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Polyline;
import milewarden.matching.line.CourseLine;
import milewarden.matching.line.Foot;
import milewarden.matching.line.SimpleLine;
import milewarden.track.Track;

/**
 * Matches tracks to one course by progress: the place on the line comes from the whole track, the
 * matched point is then the exact foot of the perpendicular from the fix. Immutable; making one
 * costs a geodesic for every vertex, so keep it.
 *
 * <p>Error of an offset: 5 mm per km of it and 21 km from the course's middle.
 */
public final class CourseMatcher {
  // Bends are looked up in steps of this along the line.
  private static final double BEND_STEP_M = 5;
  // Heading is compared this far before and behind: longer than the edges of a finely drawn bend.
  private static final double BEND_REACH_M = 10;
  // Below this radius a step is one in a bend (ENGINE, ladder by kind of step).
  private static final double BEND_RADIUS_M = 50;

  // Whole batches are run on a few courses: their matchers are kept. Matchers are immutable.
  private static final int KEPT = 16;
  private static volatile List<CourseMatcher> latest = List.of();

  private final Polyline drawn;
  private final CourseLine line;
  private final SimpleLine simple;
  private final boolean[] bends;

  private CourseMatcher(ReferenceCourse course) {
    drawn = course.line();
    line = new CourseLine(course);
    simple = new SimpleLine(line);
    bends = new boolean[(int) Math.ceil(line.lengthM() / BEND_STEP_M)];
    for (int i = 0; i < bends.length; i++) bends[i] = bends((i + 0.5) * BEND_STEP_M);
  }

  /** The matcher of a course's line. */
  public static CourseMatcher of(ReferenceCourse course) {
    List<CourseMatcher> known = latest;
    for (CourseMatcher m : known)
      if (m.line.closed() == course.closed()
          && m.drawn.positions().equals(course.line().positions())) return m;
    CourseMatcher made = new CourseMatcher(course);
    List<CourseMatcher> kept = new ArrayList<>();
    kept.add(made);
    kept.addAll(known.subList(0, Math.min(known.size(), KEPT - 1)));
    // Where another thread was first its matchers are made again when they are wanted.
    latest = List.copyOf(kept);
    return made;
  }

  private boolean bends(double atM) {
    double from = atM - BEND_REACH_M;
    double to = atM + BEND_REACH_M;
    if (!line.closed()) {
      from = Math.max(0, from);
      to = Math.min(line.lengthM(), to);
    }
    double turn = Math.abs(line.headingAt(to) - line.headingAt(from));
    return turn * BEND_RADIUS_M > to - from;
  }

  /** True where the line's radius is below 50 m, seen over 20 m of it. */
  public boolean bendAt(double chainageM) {
    double s =
        line.closed()
            ? chainageM - Math.floor(chainageM / line.lengthM()) * line.lengthM()
            : chainageM;
    int i = (int) (s / BEND_STEP_M);
    return i >= 0 && i < bends.length && bends[i];
  }

  /** Geodesic length of the line on the ellipsoid. */
  public double lengthM() {
    return line.lengthM();
  }

  /** Median distance of the fixes from the line, metres; of some hundred of them. */
  public double medianDistanceM(Track track) {
    return Nearness.of(this, track).medianM();
  }

  CourseLine line() {
    return line;
  }

  SimpleLine simple() {
    return simple;
  }

  /** Heading of the line at an unrolled chainage, clockwise, unwound over laps, radians. */
  public double headingAtRad(double chainageM) {
    return line.headingAt(chainageM);
  }

  /** The same at many chainages; quick where most lie near the one before. */
  public double[] headingsAtRad(double[] chainageM) {
    return line.headingsAt(chainageM);
  }

  /** Chainage and offset of every fix; no stretch where the track is not near the course. */
  public Match match(Track track, Timeline timeline, Optional<Direction> hint) {
    Places places = new Places(track, timeline, line.plane());
    Progress progress = new Progress(places, simple, hint);
    int n = track.size();
    double[] chainage = new double[n];
    double[] offset = new double[n];
    double[] heading = new double[n];
    if (progress.nodes() < 2) {
      for (double[] none : List.of(chainage, offset, heading)) Arrays.fill(none, Double.NaN);
      return new Match(line, chainage, offset, heading, chainage.clone(), List.of(), 0, true);
    }
    Chain chain = progress.chain();
    double[] place = chain.spread();
    feet(places, place, chainage, offset, heading);
    return new Match(
        line,
        chainage,
        offset,
        heading,
        place,
        stretches(chain),
        progress.nearShare(),
        progress.directionSure());
  }

  private void feet(
      Places places, double[] place, double[] chainage, double[] offset, double[] heading) {
    Foot foot = new Foot();
    double[] xy = new double[2];
    for (int i = 0; i < place.length; i++) {
      double x = places.rawX[i];
      double y = places.rawY[i];
      if (Double.isNaN(x)) {
        // Further off than any course is long: on no plane of ours. It stays where the others say.
        simple.point(place[i], xy);
        line.foot(xy[0], xy[1], place[i], 1, foot);
        offset[i] = FAR_M;
      } else {
        line.foot(x, y, simple.descend(x, y, place[i]), WINDOW_M, foot);
        offset[i] = foot.offsetM();
      }
      chainage[i] = foot.chainageM();
      heading[i] = foot.headingRad();
    }
  }

  // 1.5 degrees of latitude, the least that such a fix is away; only that it is far off counts.
  private static final double FAR_M = 165_000;

  // The thinned line parts from the full one by much less along it.
  private static final double WINDOW_M = 3;

  private static List<Match.Stretch> stretches(Chain chain) {
    List<Match.Stretch> out = new ArrayList<>();
    int from = 0;
    boolean turnedIn = false;
    int nodes = chain.nodes();
    for (int k = 1; k <= nodes; k++) {
      boolean ends = k == nodes;
      boolean jump = !ends && chain.jumped(k);
      // The first node's own direction is only a guess about what was before.
      boolean turn = !ends && !jump && k > from + 1 && chain.direction(k) != chain.direction(k - 1);
      if (!ends && !jump && !turn) continue;
      int first = chain.fix(from);
      int last = chain.fix(k - 1);
      if (last > first)
        out.add(new Match.Stretch(first, last, chain.direction(k - 1), turnedIn, turn));
      from = jump ? k : k - 1;
      turnedIn = turn;
    }
    return out;
  }
}
