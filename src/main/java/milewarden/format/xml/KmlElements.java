package milewarden.format.xml;

import java.util.EnumMap;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.track.DeviceClaim;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;

/**
 * KML: lines ({@code LineString}) and timed tracks ({@code Track}: as many {@code when} as {@code
 * coord}, paired in their order). Each is a segment of its own.
 *
 * <p>Many writers give one path twice, as a track and as a line to be drawn: where there is a timed
 * track, lines are left out and counted, as the same path or as another one. Of two lines with the
 * same positions the first is read.
 *
 * @see "OGC KML 2.3 (12-007r2): coordinates are longitude, latitude, height"
 */
final class KmlElements extends ElementReader {
  private enum Field {
    WHEN,
    COORD
  }

  /** Half of the last of six decimals, and a little: lines are often written coarser. */
  private static final double SAME_PLACE_DEG = 6e-7;

  private final XmlWalk walk;
  private final IssueLog lineIssues = new IssueLog();
  private final FixBuffer tracks;
  private final FixBuffer lines;
  private final Coordinates coordinates;
  private final TimedTrack timed;
  private Field field = Field.WHEN;
  private int trackDepth;
  private int lineDepth;
  private int points;

  /** The walk stands in the root. */
  KmlElements(XmlWalk walk) {
    this.walk = walk;
    tracks = new FixBuffer(walk.issues(), walk::line);
    lines = new FixBuffer(lineIssues, walk::line);
    coordinates = new Coordinates(lines, lineIssues, walk);
    timed = new TimedTrack(tracks, walk);
  }

  @Override
  int fixesRead() {
    return tracks.size() + lines.size();
  }

  @Override
  void open(String name) {
    switch (name) {
      case "Track" -> {
        trackDepth = walk.depth();
        timed.begin();
      }
      case "LineString" -> {
        lineDepth = walk.depth();
        lines.startSegment();
      }
      case "Point" -> points++;
      case "when" -> {
        if (trackDepth > 0) capture(Field.WHEN);
      }
      case "coord" -> {
        if (trackDepth > 0) capture(Field.COORD);
      }
      case "coordinates" -> {
        if (lineDepth > 0) walk.capturePieces();
      }
      default -> walk.other(name);
    }
  }

  private void capture(Field wanted) {
    field = wanted;
    walk.capture();
  }

  @Override
  void captured(CapturedText text) {
    if (field == Field.WHEN) timed.when(text);
    else timed.coord(text);
  }

  @Override
  void piece(char[] buffer, int start, int length) {
    coordinates.piece(buffer, start, length);
  }

  @Override
  void close() {
    int depth = walk.depth();
    if (depth == trackDepth) {
      trackDepth = 0;
      timed.end();
    } else if (depth == lineDepth) {
      lineDepth = 0;
      coordinates.end();
      lines.dropSegmentThatRepeats(SAME_PLACE_DEG);
    }
  }

  @Override
  void breakOff() {
    if (trackDepth > 0) timed.end();
    if (lineDepth > 0) coordinates.end();
  }

  @Override
  TrackRead finished() {
    if (tracks.size() == 0 && lines.size() == 0)
      return new TrackRead.Refused(Issue.of(Issue.Kind.NO_FIXES, nothing()));
    if (tracks.size() == 0) {
      Track track = lines.track("kml", DeviceClaim.NONE, OptionalDouble.empty());
      return new TrackRead.Usable(track, sum(lines.drops(), tracks.drops()));
    }
    Issue.Kind kind =
        lines.samePath(tracks, SAME_PLACE_DEG)
            ? Issue.Kind.SAME_PATH_TWICE
            : Issue.Kind.LINE_BESIDE_TRACK;
    int left = lines.size();
    for (int i = 0; i < left; i++) lines.takeBack(kind);
    Track track = tracks.track("kml", DeviceClaim.NONE, OptionalDouble.empty());
    return new TrackRead.Usable(track, sum(tracks.drops(), lines.drops()));
  }

  private static Drops sum(Drops a, Drops b) {
    Map<Issue.Kind, Integer> counts = new EnumMap<>(Issue.Kind.class);
    counts.putAll(a.counts());
    b.counts().forEach((kind, count) -> counts.merge(kind, count, Integer::sum));
    return new Drops(
        a.seen() + b.seen(),
        a.kept() + b.kept(),
        counts,
        Stream.concat(a.details().stream(), b.details().stream()).toList());
  }

  private String nothing() {
    int seen = tracks.seen() + lines.seen();
    if (seen > 0) return seen + " positions, none usable";
    return points == 0 ? "no line and no track" : points + " single points, no line and no track";
  }
}
