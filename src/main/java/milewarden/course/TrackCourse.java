package milewarden.course;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;

/** The course of one lane of a standard track, with its mark anywhere along the lap. */
public final class TrackCourse {
  /** Chords in each bend: the drawn lap is 3 mm short in lane 9. */
  private static final int BEND_PARTS = 200;

  private TrackCourse() {}

  /**
   * A course with an empty version.
   *
   * @param startM of the mark along the lap, from the finish line in the direction of running; any
   *     number, whole laps don't count
   * @param standardUncertaintyM of the lap, above 0
   */
  public static ReferenceCourse of(
      StandardTrack track,
      double startM,
      CourseSlug slug,
      String name,
      double standardUncertaintyM) {
    Polyline line = from(track.line(BEND_PARTS), startM / track.lapM());
    return new ReferenceCourse(
        slug,
        "",
        name,
        true,
        line,
        List.of(new Mark(Mark.Role.START, line.positions().get(0), OptionalDouble.of(0), "start")),
        track.lapM(),
        standardUncertaintyM,
        Optional.empty(),
        "",
        Method.STANDARD_TRACK,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        List.of(),
        OptionalDouble.empty(),
        "synthetic",
        SkyView.OPEN,
        "Drawn as the standard track, lane "
            + track.lane()
            + ": straights 84.39 m, measured "
            + (track.lane() == 1 ? "0.30 m from the kerb" : "0.20 m from the line inside")
            + ". Not measured: tape or wheel your own track before you trust it.",
        Map.of());
  }

  /** A closed line that begins a share of its length further on. */
  static Polyline from(Polyline closed, double share) {
    double part = share - Math.floor(share);
    double[] at = closed.chainagesM();
    double wanted = part * at[at.length - 1];
    int i = 0;
    while (i < at.length - 2 && at[i + 1] <= wanted) i++;
    List<Position> old = closed.positions();
    List<Position> positions = new ArrayList<>();
    double t = (wanted - at[i]) / (at[i + 1] - at[i]);
    Position first = t > 0 ? between(old.get(i), old.get(i + 1), t) : old.get(i);
    positions.add(first);
    for (int j = 1; j < old.size(); j++) {
      // The last position repeats the first one.
      Position p = old.get((i + j) % (old.size() - 1));
      if (!p.equals(positions.get(positions.size() - 1))) positions.add(p);
    }
    if (!positions.get(positions.size() - 1).equals(first)) positions.add(first);
    return new Polyline(positions);
  }

  // A part of a track is a metre or a straight long: degrees are linear along it to a micrometre.
  private static Position between(Position a, Position b, double t) {
    return new Position(
        a.latitudeDeg() + t * (b.latitudeDeg() - a.latitudeDeg()),
        a.longitudeDeg() + t * Math.IEEEremainder(b.longitudeDeg() - a.longitudeDeg(), 360));
  }
}
