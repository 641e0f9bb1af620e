package milewarden.format.text;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.exc.StreamConstraintsException;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import milewarden.format.fixes.BoundedInput;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.DeviceClaim;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;

/**
 * GeoJSON: lines ({@code LineString}, {@code MultiLineString}), each a segment; where there is
 * none, points with times in the order of the file.
 *
 * <p>The format knows no times. Those in common use are read: a property {@code time} or {@code
 * timestamp} of a point, and arrays {@code coordTimes} or {@code times} of a line, as long as its
 * positions.
 *
 * @see "RFC 7946: positions are longitude, latitude, height above the WGS 84 ellipsoid"
 */
public final class GeoJsonReader {
  private static final Set<String> TIMES = Set.of("coordTimes", "coordtimes", "times");
  private static final Set<String> TIME = Set.of("time", "timestamp", "datetime");
  private static final Set<String> TYPES =
      Set.of(
          "FeatureCollection",
          "Feature",
          "GeometryCollection",
          "Point",
          "MultiPoint",
          "LineString",
          "MultiLineString",
          "Polygon",
          "MultiPolygon");

  private final BoundedInput in;
  private final FileHead head;
  private final ReadLimits limits;
  private final IssueLog issues = new IssueLog();
  private final IssueLog pointIssues = new IssueLog();
  private final FixBuffer lines;
  private final FixBuffer points;
  private final JsonParser json;
  private boolean courseFile;
  private boolean anyType;
  private int pointsWithoutTime;

  /**
   * @throws UncheckedIOException where the stream below fails
   */
  public GeoJsonReader(FileHead head, InputStream rest, ReadLimits limits) {
    this.head = head;
    this.limits = limits;
    in = new BoundedInput(head.withoutMark(), rest, limits.bytes());
    lines = new FixBuffer(issues, this::place);
    points = new FixBuffer(pointIssues, this::place);
    JsonFactory factory =
        JsonFactory.builder()
            .streamReadConstraints(
                StreamReadConstraints.builder().maxNestingDepth(limits.depth()).build())
            .build();
    try {
      json = factory.createParser(new InputStreamReader(in, head.encoding()));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Whether a file that begins so is of this format. */
  public static boolean recognises(FileHead head) {
    return head.text().stripLeading().startsWith("{");
  }

  private String place() {
    JsonLocation at = json.currentLocation();
    return "line " + (Math.max(1, at.getLineNr()) + head.linesBefore());
  }

  /** No more fixes than the limits allow; never leaves this class. */
  private static final class TooMany extends RuntimeException {
    private static final long serialVersionUID = 1;

    TooMany() {
      super("", null, false, false);
    }
  }

  /**
   * Reads to the end of the file, or to where it breaks.
   *
   * @throws UncheckedIOException where the stream below fails
   */
  public TrackRead read() {
    try {
      if (json.nextToken() != JsonToken.START_OBJECT)
        return refused(Issue.Kind.NOT_A_TRACK, "no object");
      Feature whole = new Feature();
      object(whole);
      flush(whole);
    } catch (TooMany e) {
      return refused(Issue.Kind.TOO_MANY_FIXES, "more than " + limits.fixes());
    } catch (StreamConstraintsException e) {
      return refused(Issue.Kind.TOO_DEEP, "more than " + limits.depth() + " levels");
    } catch (JsonProcessingException e) {
      return broken(e);
    } catch (IOException e) {
      Optional<IOException> failure = in.failure();
      if (failure.isPresent()) throw new UncheckedIOException(failure.get());
      return in.tooLarge()
          ? refused(Issue.Kind.TOO_LARGE, "at most " + limits.bytes() / 1_000_000 + " MB")
          : refused(Issue.Kind.MALFORMED, IssueLog.shortened(String.valueOf(e.getMessage())));
    }
    return finished();
  }

  private TrackRead broken(JsonProcessingException e) {
    String said = IssueLog.shortened(e.getOriginalMessage());
    if (lines.size() + points.size() == 0) return refused(Issue.Kind.MALFORMED, said);
    issues.add(Issue.Kind.TRUNCATED, this::place, said);
    return finished();
  }

  private TrackRead refused(Issue.Kind kind, String detail) {
    return new TrackRead.Refused(Issue.at(kind, place(), detail));
  }

  /** The parser stands at the start of an object that belongs to {@code feature}. */
  private void object(Feature feature) throws IOException {
    String type = "";
    feature.beginGeometry();
    try {
      while (json.nextToken() == JsonToken.FIELD_NAME) {
        String name = json.currentName();
        JsonToken token = json.nextToken();
        if (name.equals("type") && token == JsonToken.VALUE_STRING) type = json.getText();
        else if (name.equals("coordinates") && token == JsonToken.START_ARRAY)
          feature.coordinates(json, () -> check(feature));
        else if (name.equals("geometry") && token == JsonToken.START_OBJECT) object(feature);
        else if (name.equals("geometries") && token == JsonToken.START_ARRAY) each(feature, false);
        else if (name.equals("features") && token == JsonToken.START_ARRAY) each(feature, true);
        else if (name.equals("properties") && token == JsonToken.START_OBJECT) properties(feature);
        else json.skipChildren();
      }
    } catch (JsonProcessingException e) {
      // What was read of a line that breaks off counts; its type may stand behind it.
      feature.endGeometry(type.isEmpty() ? "LineString" : type);
      flush(feature);
      throw e;
    }
    anyType |= TYPES.contains(type);
    feature.endGeometry(type);
  }

  private void check(Feature feature) {
    if (lines.seen() + points.seen() + feature.positions() > limits.fixes()) throw new TooMany();
  }

  private void each(Feature feature, boolean ownFeature) throws IOException {
    while (json.nextToken() != JsonToken.END_ARRAY) {
      if (json.currentToken() != JsonToken.START_OBJECT) {
        json.skipChildren();
        continue;
      }
      Feature one = ownFeature ? new Feature() : feature;
      object(one);
      if (ownFeature) flush(one);
    }
  }

  private void properties(Feature feature) throws IOException {
    while (json.nextToken() == JsonToken.FIELD_NAME) {
      String name = json.currentName();
      JsonToken token = json.nextToken();
      if (name.equals("measured_length_m")) courseFile = true;
      if (TIMES.contains(name) && token == JsonToken.START_ARRAY) times(feature);
      else if (TIME.contains(name) && token.isScalarValue()) feature.time(json.getText());
      else if (name.equals("coordinateProperties") && token == JsonToken.START_OBJECT)
        properties(feature);
      else json.skipChildren();
    }
  }

  /** One array, or one for each line. */
  private void times(Feature feature) throws IOException {
    int depth = 1;
    while (depth > 0) {
      JsonToken token = json.nextToken();
      if (token == JsonToken.START_ARRAY) depth++;
      else if (token == JsonToken.END_ARRAY) depth--;
      else if (token == JsonToken.START_OBJECT) json.skipChildren();
      else feature.time(json.getText());
    }
  }

  private void flush(Feature feature) {
    feature.give(lines, issues, points, pointIssues, this::place);
    pointsWithoutTime += feature.pointsWithoutTime();
  }

  private TrackRead finished() {
    boolean fromLines = lines.size() > 0;
    FixBuffer fixes = fromLines ? lines : points;
    if (courseFile)
      return new TrackRead.Refused(
          Issue.of(Issue.Kind.NOT_A_TRACK, "a reference course: put it into the courses folder"));
    if (fixes.size() == 0 && !anyType)
      return new TrackRead.Refused(
          Issue.of(Issue.Kind.NOT_A_TRACK, "begins with \"" + head.shown() + "\""));
    if (fixes.size() == 0) return new TrackRead.Refused(Issue.of(Issue.Kind.NO_FIXES, nothing()));
    Track track = fixes.track("geojson", DeviceClaim.NONE, OptionalDouble.empty());
    Drops drops = fixes.drops();
    return new TrackRead.Usable(track, fromLines ? drops : withTruncated(drops));
  }

  /** Where points are the track, the file's own issues are in the other log. */
  private Drops withTruncated(Drops drops) {
    if (issues.counts().isEmpty()) return drops;
    EnumMap<Issue.Kind, Integer> counts = new EnumMap<>(Issue.Kind.class);
    counts.putAll(drops.counts());
    issues.counts().forEach((k, n) -> counts.merge(k, n, Integer::sum));
    List<Issue> details = new ArrayList<>(drops.details());
    details.addAll(issues.details());
    return new Drops(drops.seen() + lines.seen(), drops.kept(), counts, details);
  }

  private String nothing() {
    int seen = lines.seen() + points.seen();
    if (seen > 0) return seen + " positions, none usable";
    return pointsWithoutTime == 0
        ? "no line"
        : pointsWithoutTime + " points without a time, and no line";
  }
}
