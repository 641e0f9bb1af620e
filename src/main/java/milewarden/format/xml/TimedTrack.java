package milewarden.format.xml;

import java.util.Arrays;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.PlainNumber;
import milewarden.track.Issue;
import milewarden.track.Track;

/** The times and positions of one timed track, which are paired when it ends. */
final class TimedTrack {
  private final FixBuffer fixes;
  private final XmlWalk walk;
  private long[] times = new long[256];
  private boolean[] timeSaid = new boolean[256];
  private int whens;
  private double[] places = new double[3 * 256];
  private int coords;

  TimedTrack(FixBuffer fixes, XmlWalk walk) {
    this.fixes = fixes;
    this.walk = walk;
  }

  void begin() {
    whens = 0;
    coords = 0;
    fixes.startSegment();
  }

  void when(CapturedText text) {
    walk.checkFixes(fixes.seen() + whens);
    if (whens == times.length) {
      times = Arrays.copyOf(times, 2 * whens);
      timeSaid = Arrays.copyOf(timeSaid, 2 * whens);
    }
    timeSaid[whens] = !text.isBlank();
    times[whens++] = text.isBlank() ? Track.NO_TIME : text.time(walk.issues(), walk::line);
  }

  /** {@code longitude latitude height}; blank where the track had no position at that time. */
  void coord(CapturedText text) {
    walk.checkFixes(fixes.seen() + coords);
    if (3 * coords == places.length) places = Arrays.copyOf(places, 6 * coords);
    String[] parts = text.toString().split("\\s+");
    double longitude = parts.length < 2 ? Double.NaN : PlainNumber.parse(parts[0]);
    double latitude = parts.length < 2 ? Double.NaN : PlainNumber.parse(parts[1]);
    double height = parts.length < 3 ? Double.NaN : PlainNumber.parse(parts[2]);
    boolean blank = text.isBlank();
    boolean place = Double.isFinite(longitude) && Double.isFinite(latitude);
    // Told here, where the line is known; the fix itself is counted at the track's end.
    places[3 * coords] = place ? longitude : Double.NaN;
    places[3 * coords + 1] = place ? latitude : blank ? Double.NaN : Double.POSITIVE_INFINITY;
    places[3 * coords + 2] = Double.isFinite(height) ? height : Double.NaN;
    coords++;
  }

  void end() {
    for (int i = 0; i < Math.max(whens, coords); i++) pair(i);
    whens = 0;
    coords = 0;
  }

  private void pair(int i) {
    fixes.begin();
    double longitude = i < coords ? places[3 * i] : Double.NaN;
    double latitude = i < coords ? places[3 * i + 1] : Double.NaN;
    if (Double.isNaN(longitude)) {
      boolean unreadable = Double.isInfinite(latitude);
      fixes.drop(unreadable ? Issue.Kind.POSITION_NOT_A_NUMBER : Issue.Kind.NO_POSITION, "");
      return;
    }
    if (!fixes.accepts(latitude, longitude)) return;
    long time = i < whens ? times[i] : Track.NO_TIME;
    if (i >= whens || !timeSaid[i]) walk.issues().add(Issue.Kind.TIME_MISSING, walk::line, "");
    fixes.add(latitude, longitude, places[3 * i + 2], time, Double.NaN, Double.NaN, Double.NaN);
  }
}
