package milewarden.format.text;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.Arrays;
import java.util.BitSet;
import java.util.function.Supplier;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.PlainTime;
import milewarden.track.Issue;
import milewarden.track.Track;

/** The positions and times of one feature until it ends: its properties may stand behind it. */
final class Feature {
  /** Stands for what is no position; positions are finite in every file. */
  private static final double UNREADABLE = Double.NaN;

  private double[] places = new double[3 * 16];
  private int size;
  private final BitSet lineStarts = new BitSet();
  private final BitSet single = new BitSet();
  private int geometryFrom;
  private String[] times = {};
  private int timesSize;
  private int pointsWithoutTime;

  void beginGeometry() {
    geometryFrom = size;
  }

  int positions() {
    return size;
  }

  int pointsWithoutTime() {
    return pointsWithoutTime;
  }

  /** The positions since the geometry began are of this type; areas are no path. */
  void endGeometry(String type) {
    if (type.equals("Point") || type.equals("MultiPoint")) single.set(geometryFrom, size);
    else if (type.equals("Polygon") || type.equals("MultiPolygon")) size = geometryFrom;
    geometryFrom = size;
  }

  /** The parser stands at the start of a nest of arrays of numbers. */
  void coordinates(JsonParser json, Runnable check) throws IOException {
    geometryFrom = size;
    lineStarts.set(size);
    int depth = 1;
    int numbers = 0;
    double[] now = {UNREADABLE, UNREADABLE, UNREADABLE};
    while (depth > 0) {
      JsonToken token = json.nextToken();
      if (token == null) return;
      if (token == JsonToken.START_ARRAY) {
        depth++;
        numbers = 0;
        Arrays.fill(now, UNREADABLE);
      } else if (token == JsonToken.END_ARRAY) {
        depth--;
        if (numbers > 0) {
          add(now);
          check.run();
        } else {
          lineStarts.set(size);
        }
        numbers = 0;
      } else if (token == JsonToken.START_OBJECT) {
        json.skipChildren();
      } else {
        if (numbers < 3 && token.isNumeric()) now[numbers] = json.getDoubleValue();
        numbers++;
      }
    }
  }

  private void add(double[] place) {
    if (3 * size == places.length) places = Arrays.copyOf(places, 2 * places.length);
    System.arraycopy(place, 0, places, 3 * size, 3);
    size++;
  }

  void time(String text) {
    if (timesSize == times.length) times = Arrays.copyOf(times, Math.max(1, 2 * timesSize));
    times[timesSize++] = text;
  }

  /** Hands the lines' positions to one buffer and the timed points to the other. */
  void give(
      FixBuffer lines,
      IssueLog lineIssues,
      FixBuffer points,
      IssueLog pointIssues,
      Supplier<String> place) {
    // As many times as positions, or they belong to something else.
    boolean timed = timesSize == size;
    if (timesSize > 0 && !timed && single.isEmpty())
      lineIssues.add(
          Issue.Kind.VALUE_UNREADABLE, place, timesSize + " times for " + size + " positions");
    for (int i = 0; i < size; i++) {
      if (single.get(i)) {
        if (timed) give(i, points, pointIssues, place, true);
        else pointsWithoutTime++;
      } else {
        if (lineStarts.get(i)) lines.startSegment();
        give(i, lines, lineIssues, place, timed);
      }
    }
    size = 0;
    timesSize = 0;
    // A file that breaks off ends the geometries around the innermost one after this.
    geometryFrom = 0;
    lineStarts.clear();
    single.clear();
  }

  private void give(
      int i, FixBuffer fixes, IssueLog issues, Supplier<String> place, boolean timed) {
    fixes.begin();
    double longitude = places[3 * i];
    double latitude = places[3 * i + 1];
    if (!Double.isFinite(latitude) || !Double.isFinite(longitude)) {
      fixes.drop(Issue.Kind.POSITION_NOT_A_NUMBER, "");
      return;
    }
    if (!fixes.accepts(latitude, longitude)) return;
    long time = timed ? time(times[i], issues, place) : Track.NO_TIME;
    if (!timed) issues.add(Issue.Kind.TIME_MISSING, place, "");
    double height = places[3 * i + 2];
    fixes.add(
        latitude,
        longitude,
        Double.isFinite(height) ? height : Double.NaN,
        time,
        Double.NaN,
        Double.NaN,
        Double.NaN);
  }

  private static long time(String text, IssueLog issues, Supplier<String> place) {
    char[] chars = text.toCharArray();
    long time = PlainTime.parse(chars, 0, chars.length);
    if (time != Track.NO_TIME) return time;
    if (text.matches("\\d{9,10}(?:\\.\\d{1,9})?"))
      return Math.round(Double.parseDouble(text) * 1000);
    if (text.matches("\\d{12,13}")) return Long.parseLong(text);
    long local = PlainTime.parseWithoutZone(chars, 0, chars.length);
    issues.add(
        local == Track.NO_TIME ? Issue.Kind.TIME_UNREADABLE : Issue.Kind.TIME_WITHOUT_ZONE,
        place,
        text);
    return local;
  }
}
