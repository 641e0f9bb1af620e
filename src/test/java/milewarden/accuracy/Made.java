package milewarden.accuracy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.track.DeviceClaim;
import milewarden.track.Track;

/** Tracks and courses laid out by hand, in metres east and north of a place. */
final class Made {
  static final Position HERE = new Position(48.2, -30.1);
  static final long ZERO_MS = 1_770_000_000_000L;

  private final List<Position> positions = new ArrayList<>();
  private final List<Long> times = new ArrayList<>();
  private final List<Double> distances = new ArrayList<>();
  private final List<Integer> segments = new ArrayList<>(List.of(0));

  static Position at(double eastM, double northM) {
    return Geodesics.direct(
        HERE, Math.toDegrees(Math.atan2(eastM, northM)), Math.hypot(eastM, northM));
  }

  Made fix(double second, double eastM, double northM) {
    positions.add(at(eastM, northM));
    times.add(ZERO_MS + Math.round(second * 1000));
    return this;
  }

  Made fix(double second, double eastM, double northM, double distanceM) {
    distances.add(distanceM);
    return fix(second, eastM, northM);
  }

  Made segment() {
    segments.add(positions.size());
    return this;
  }

  Track track() {
    int n = positions.size();
    return new Track(
        "made",
        positions.stream().mapToDouble(Position::latitudeDeg).toArray(),
        positions.stream().mapToDouble(Position::longitudeDeg).toArray(),
        new double[0],
        times.stream().mapToLong(t -> t).toArray(),
        distances.size() == n ? distances.stream().mapToDouble(d -> d).toArray() : new double[0],
        new double[0],
        segments.stream().mapToInt(s -> s).toArray(),
        DeviceClaim.NONE,
        OptionalDouble.empty());
  }

  /** A circle run clockwise from its northernmost point, finely drawn. */
  static ReferenceCourse circle(double radiusM) {
    return InventedCourse.circle("circle", HERE, radiusM, (int) Math.round(radiusM * 60));
  }

  static ReferenceCourse open(double[]... eastNorthM) {
    List<Position> line = new ArrayList<>();
    for (double[] p : eastNorthM) line.add(at(p[0], p[1]));
    return InventedCourse.of("open", "open", false, line);
  }

  static ReferenceCourse measured(ReferenceCourse c, double lengthM) {
    return InventedCourse.measured(
        c.slug().text(), c.name(), c.closed(), new Polyline(c.line().positions()), lengthM);
  }

  /**
   * The course on a hill.
   *
   * @param chainageHeight pairs, metres
   */
  static ReferenceCourse hilly(
      ReferenceCourse c, double safetyFactor, double meanHeightM, double[]... chainageHeight) {
    return new ReferenceCourse(
        c.slug(),
        c.version(),
        c.name(),
        c.closed(),
        c.line(),
        c.marks(),
        c.measuredLengthM(),
        c.standardUncertaintyM(),
        c.measuredOn(),
        c.measuredBy(),
        c.method(),
        safetyFactor == 1 ? OptionalDouble.empty() : OptionalDouble.of(safetyFactor),
        OptionalDouble.of(meanHeightM),
        Arrays.stream(chainageHeight)
            .map(h -> new ReferenceCourse.HeightPoint(h[0], h[1]))
            .toList(),
        c.corridorM(),
        c.surface(),
        c.skyView(),
        c.notes(),
        c.otherProperties());
  }

  static PassMeasurement only(Track track, ReferenceCourse course, MeasureOptions options) {
    TrackMeasurement m = Measurer.measure(track, course, options);
    if (m.passes().size() != 1)
      throw new AssertionError(m.passes().size() + " passes, " + m.findings());
    return m.passes().get(0);
  }

  static double sum(Ladder l) {
    return l.endsM() + l.lineM() + l.backtrackM() + l.weaveM() + l.bendM() + l.chordM();
  }
}
