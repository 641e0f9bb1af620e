package milewarden.format.xml;

import java.util.HashSet;
import java.util.OptionalDouble;
import java.util.Set;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import milewarden.format.fixes.BoundedInput;
import milewarden.format.fixes.CreatorText;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.PlainNumber;
import milewarden.format.fixes.PlainTime;
import milewarden.format.fixes.ReadLimits;
import milewarden.geodesy.LocalMetric;
import milewarden.track.DeviceClaim;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;
import org.codehaus.stax2.XMLStreamReader2;

/** Where in a GPX file the parser stands, and what has been read so far. */
final class GpxElements {
  /** Which value the text at hand belongs to. */
  private enum Field {
    NONE,
    TIME,
    HEIGHT,
    SPEED,
    DISTANCE,
    CADENCE,
    TOTAL
  }

  /** Longer texts are no number and no time. */
  private static final int LONGEST_TEXT = 64;

  /** So many different names no format has, and a parser keeps each: our own bound. */
  private static final int MOST_NAMES = 5_000;

  /** A total further off the path than this counts in another unit than metres: our own bound. */
  private static final double UNIT_RATIO = 30;

  private final XMLStreamReader2 xml;
  private final BoundedInput in;
  private final int linesBefore;
  private final ReadLimits limits;
  private final IssueLog issues = new IssueLog();
  private final FixBuffer fixes = new FixBuffer(issues, this::line);
  private final DecimalDecoder decimal = new DecimalDecoder();
  private final Set<String> otherNames = new HashSet<>();
  private final char[] text = new char[LONGEST_TEXT];
  private DeviceClaim claim = DeviceClaim.NONE;
  private int depth;
  private int trackDepth;
  private int fixDepth;
  private Field field = Field.NONE;
  private int fieldDepth;
  private int textLength;
  private int wayPoints;
  private int routePoints;
  private double total = Double.NaN;
  // The fix being read.
  private boolean usable;
  private boolean timeGiven;
  private double latitude;
  private double longitude;
  private double height;
  private double speed;
  private double distance;
  private double cadence;
  private long time;

  GpxElements(XMLStreamReader2 xml, BoundedInput in, int linesBefore, ReadLimits limits) {
    this.xml = xml;
    this.in = in;
    this.linesBefore = linesBefore;
    this.limits = limits;
  }

  /** The whole file is refused; never leaves this package. */
  static final class Refusal extends RuntimeException {
    private final transient Issue why;

    Refusal(Issue why) {
      super(why.kind().name(), null, false, false);
      this.why = why;
    }

    Issue why() {
      return why;
    }
  }

  /**
   * Reads to the end of the document.
   *
   * @throws Refusal where the file is no track file or beyond its limits
   */
  void readAll() throws XMLStreamException {
    while (xml.hasNext()) {
      switch (xml.next()) {
        case XMLStreamConstants.START_ELEMENT -> start(xml.getLocalName());
        case XMLStreamConstants.END_ELEMENT -> end();
        case XMLStreamConstants.CHARACTERS, XMLStreamConstants.CDATA -> characters();
        case XMLStreamConstants.DTD -> throw refusal(Issue.Kind.DOCTYPE, "");
        default -> in.progressed();
      }
    }
  }

  int fixesRead() {
    return fixes.size();
  }

  private String line() {
    return "line " + (xml.getLocationInfo().getCurrentLocation().getLineNumber() + linesBefore);
  }

  private Refusal refusal(Issue.Kind kind, String detail) {
    return new Refusal(Issue.at(kind, line(), detail));
  }

  private void start(String name) throws XMLStreamException {
    in.progressed();
    if (++depth > limits.depth())
      throw refusal(Issue.Kind.TOO_DEEP, "more than " + limits.depth() + " levels");
    if (depth == 1) root(name);
    else if (fixDepth > 0) startInFix(name);
    else startOutside(name);
  }

  private void root(String name) {
    if (!name.equals("gpx"))
      throw refusal(Issue.Kind.NOT_A_TRACK, "root element " + IssueLog.shortened(name));
    String version = attribute("version");
    if (!version.equals("1.0") && !version.equals("1.1"))
      issues.add(Issue.Kind.ODD_VERSION, this::line, version.isEmpty() ? "no version" : version);
    claim = CreatorText.claim(attribute("creator"));
  }

  private String attribute(String name) {
    for (int i = 0; i < xml.getAttributeCount(); i++)
      if (xml.getAttributeLocalName(i).equals(name)) return xml.getAttributeValue(i).strip();
    return "";
  }

  private void startOutside(String name) throws XMLStreamException {
    switch (name) {
      case "trkpt" -> beginFix();
      case "trkseg" -> fixes.startSegment();
      case "trk" -> {
        trackDepth = depth;
        fixes.startSegment();
      }
      case "wpt" -> wayPoints++;
      case "rtept" -> routePoints++;
      case "device" -> {
        claim = claim.overriddenBy(CreatorText.claim(this::attribute));
        other(name);
      }
      case "distance", "Distance" -> {
        if (trackDepth > 0) capture(Field.TOTAL);
      }
      default -> other(name);
    }
  }

  private void startInFix(String name) throws XMLStreamException {
    boolean child = depth == fixDepth + 1;
    switch (name) {
      case "time" -> {
        if (child) capture(Field.TIME);
      }
      case "ele" -> {
        if (child) capture(Field.HEIGHT);
      }
      case "speed", "Speed" -> {
        if (Double.isNaN(speed)) capture(Field.SPEED);
      }
      case "distance", "Distance" -> {
        if (Double.isNaN(distance)) capture(Field.DISTANCE);
      }
      case "cad", "cadence", "Cadence", "RunCadence" -> {
        if (Double.isNaN(cadence)) capture(Field.CADENCE);
      }
      case "trkpt" -> {
        // A point inside a point: a writer forgot to close the first; both count.
        endFix();
        beginFix();
      }
      default -> other(name);
    }
  }

  private void other(String name) {
    otherNames.add(name);
    for (int i = 0; i < xml.getAttributeCount(); i++) otherNames.add(xml.getAttributeLocalName(i));
    if (otherNames.size() > MOST_NAMES)
      throw refusal(Issue.Kind.TOO_LARGE, "more than " + MOST_NAMES + " different names");
  }

  private void capture(Field wanted) {
    field = wanted;
    fieldDepth = depth;
    textLength = 0;
  }

  private void characters() {
    if (field == Field.NONE || depth != fieldDepth) return;
    int length = xml.getTextLength();
    if (textLength + length > LONGEST_TEXT) {
      textLength = LONGEST_TEXT + 1;
      return;
    }
    System.arraycopy(xml.getTextCharacters(), xml.getTextStart(), text, textLength, length);
    textLength += length;
  }

  private void end() {
    if (field != Field.NONE && depth == fieldDepth) assign();
    else if (depth == fixDepth) endFix();
    else if (depth == trackDepth) trackDepth = 0;
    depth--;
  }

  private void beginFix() throws XMLStreamException {
    fixDepth = depth;
    fixes.begin();
    if (fixes.seen() > limits.fixes())
      throw refusal(Issue.Kind.TOO_MANY_FIXES, "more than " + limits.fixes());
    timeGiven = false;
    time = Track.NO_TIME;
    height = Double.NaN;
    speed = Double.NaN;
    distance = Double.NaN;
    cadence = Double.NaN;
    usable = readPosition();
  }

  private boolean readPosition() throws XMLStreamException {
    int lat = -1;
    int lon = -1;
    for (int i = 0; i < xml.getAttributeCount(); i++) {
      String name = xml.getAttributeLocalName(i);
      if (name.equals("lat")) lat = i;
      else if (name.equals("lon")) lon = i;
      else otherNames.add(name);
    }
    if (lat < 0 || lon < 0) {
      fixes.drop(Issue.Kind.NO_POSITION, lat < 0 ? "no lat" : "no lon");
      return false;
    }
    xml.getAttributeAs(lat, decimal);
    latitude = decimal.value();
    xml.getAttributeAs(lon, decimal);
    longitude = decimal.value();
    if (Double.isNaN(latitude) || Double.isNaN(longitude)) {
      String found = xml.getAttributeValue(Double.isNaN(latitude) ? lat : lon);
      fixes.drop(Issue.Kind.POSITION_NOT_A_NUMBER, found);
      return false;
    }
    return fixes.accepts(latitude, longitude);
  }

  private void endFix() {
    fixDepth = 0;
    field = Field.NONE;
    if (!usable) return;
    usable = false;
    if (!timeGiven) issues.add(Issue.Kind.TIME_MISSING, this::line, "");
    fixes.add(latitude, longitude, height, time, distance, speed, cadence);
  }

  private void assign() {
    Field assigned = field;
    field = Field.NONE;
    boolean tooLong = textLength > LONGEST_TEXT;
    if (!tooLong && isBlank()) return;
    if (assigned == Field.TIME) {
      timeGiven = true;
      if (usable) time = tooLong ? unreadableTime() : readTime();
      return;
    }
    double value = tooLong ? Double.NaN : PlainNumber.parse(text, 0, textLength);
    boolean readable = Double.isFinite(value) && (value >= 0 || assigned == Field.HEIGHT);
    if (!readable) {
      Issue.Kind kind =
          assigned == Field.HEIGHT ? Issue.Kind.HEIGHT_UNREADABLE : Issue.Kind.VALUE_UNREADABLE;
      issues.add(kind, this::line, found());
      return;
    }
    switch (assigned) {
      case HEIGHT -> height = value;
      case SPEED -> speed = value;
      case DISTANCE -> distance = value;
      case CADENCE -> cadence = value;
      case TOTAL -> total = Double.isNaN(total) ? value : total + value;
      default -> throw new IllegalStateException(assigned.name());
    }
  }

  private boolean isBlank() {
    for (int i = 0; i < textLength; i++) if (text[i] > ' ') return false;
    return true;
  }

  private String found() {
    return new String(text, 0, Math.min(textLength, LONGEST_TEXT));
  }

  private long readTime() {
    long parsed = PlainTime.parse(text, 0, textLength);
    if (parsed != Track.NO_TIME) return parsed;
    long local = PlainTime.parseWithoutZone(text, 0, textLength);
    if (local == Track.NO_TIME) return unreadableTime();
    issues.add(Issue.Kind.TIME_WITHOUT_ZONE, this::line, found());
    return local;
  }

  private long unreadableTime() {
    issues.add(Issue.Kind.TIME_UNREADABLE, this::line, found());
    return Track.NO_TIME;
  }

  /** The file broke off at {@code place}: the fix at hand counts with what was read of it. */
  TrackRead brokenOff(String place, String why) {
    if (fixDepth > 0) endFix();
    issues.add(Issue.Kind.TRUNCATED, () -> place, why);
    return finished();
  }

  TrackRead finished() {
    if (fixes.size() == 0) return new TrackRead.Refused(Issue.of(Issue.Kind.NO_FIXES, nothing()));
    Track track = fixes.track("gpx", claim, OptionalDouble.empty());
    if (!Double.isNaN(total)) track = withTotal(track);
    return new TrackRead.Usable(track, fixes.drops());
  }

  private Track withTotal(Track track) {
    double path = 0;
    for (int i = 1; i < track.size(); i++)
      path +=
          LocalMetric.lengthM(
              track.latitudesDeg()[i - 1],
              track.longitudesDeg()[i - 1],
              track.latitudesDeg()[i],
              track.longitudesDeg()[i]);
    if (total < path / UNIT_RATIO || total > path * UNIT_RATIO) {
      issues.add(
          Issue.Kind.VALUE_UNREADABLE, () -> "the track's distance", total + " is not in metres");
      return track;
    }
    return track.withClaimedTotalM(total);
  }

  private String nothing() {
    if (fixes.seen() > 0) return fixes.seen() + " track points, none with a usable position";
    if (wayPoints + routePoints == 0) return "no track points";
    return wayPoints + " waypoints and " + routePoints + " route points, but no track points";
  }
}
