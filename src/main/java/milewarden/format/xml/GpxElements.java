package milewarden.format.xml;

import com.fasterxml.aalto.UncheckedStreamException;
import java.util.Optional;
import java.util.OptionalDouble;
import javax.xml.stream.XMLStreamException;
import milewarden.format.fixes.CreatorText;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.geodesy.LocalMetric;
import milewarden.track.DeviceClaim;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;
import org.codehaus.stax2.XMLStreamReader2;

/**
 * GPX 1.0 and 1.1. A {@code trkseg} begins a segment, and so does a {@code trk}. The speed, the
 * cumulative distance and the cadence of a fix are elements of these names, in it (1.0) or anywhere
 * in its extensions. Heights and distances are metres, speeds metres per second.
 *
 * @see "GPX 1.1 schema documentation; GPX 1.0 developer's manual"
 */
final class GpxElements extends ElementReader {
  /** A total further off the path than this counts in another unit than metres: our own bound. */
  private static final double UNIT_RATIO = 30;

  private final XmlWalk walk;
  private final XMLStreamReader2 xml;
  private final IssueLog issues;
  private final FixBuffer fixes;
  private final DecimalDecoder decimal = new DecimalDecoder();
  private DeviceClaim claim;
  private int trackDepth;
  private int fixDepth;
  // Which value of the fix the text at hand is.
  private FixField field = FixField.OTHER;
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

  /** The walk stands in the root. */
  GpxElements(XmlWalk walk) {
    this.walk = walk;
    xml = walk.xml();
    issues = walk.issues();
    fixes = new FixBuffer(issues, walk::line);
    String version = walk.attribute("version");
    if (!version.equals("1.0") && !version.equals("1.1"))
      issues.add(Issue.Kind.ODD_VERSION, walk::line, version.isEmpty() ? "no version" : version);
    claim = CreatorText.claim(walk.attribute("creator"));
  }

  @Override
  int fixesRead() {
    return fixes.size();
  }

  @Override
  void open(String name) {
    if (fixDepth > 0) startInFix(name);
    else startOutside(name);
  }

  private void startOutside(String name) {
    switch (name) {
      case "trkpt" -> beginFix();
      case "trkseg" -> fixes.startSegment();
      case "trk" -> {
        trackDepth = walk.depth();
        fixes.startSegment();
      }
      case "wpt" -> wayPoints++;
      case "rtept" -> routePoints++;
      case "device" -> {
        claim = claim.overriddenBy(CreatorText.claim(walk::attribute));
        walk.other(name);
      }
      case "distance", "Distance" -> {
        if (trackDepth > 0) walk.capture();
      }
      default -> walk.other(name);
    }
  }

  private void startInFix(String name) {
    FixField found = FixMarkup.GPX.text(name, walk.depth() == fixDepth + 1);
    switch (found) {
      case TIME, HEIGHT -> capture(found);
      // The first that can be read counts.
      case SPEED -> captureUnless(found, speed);
      case DISTANCE -> captureUnless(found, distance);
      case CADENCE -> captureUnless(found, cadence);
      case UNFIT -> {
        // A point inside a point: a writer forgot to close the first; both count.
        endFix();
        beginFix();
      }
      default -> walk.other(name);
    }
  }

  private void captureUnless(FixField wanted, double known) {
    if (Double.isNaN(known)) capture(wanted);
  }

  private void capture(FixField wanted) {
    field = wanted;
    walk.capture();
  }

  @Override
  Optional<FixMarkup> markup() {
    return Optional.of(FixMarkup.GPX);
  }

  @Override
  void fixes(FixRun run) {
    // In the place of a point's start: what was open before it ends here.
    walk.atStart(run, 0);
    if (fixDepth > 0) endFix();
    walk.forgetText();
    for (int i = 0; i < run.size(); i++) {
      walk.atStart(run, i);
      fixes.begin();
      walk.checkFixes(fixes.seen());
      walk.at(run, i);
      latitude = run.number(FixField.LATITUDE, i);
      longitude = run.number(FixField.LONGITUDE, i);
      height = run.number(FixField.HEIGHT, i);
      distance = run.number(FixField.DISTANCE, i);
      speed = run.number(FixField.SPEED, i);
      cadence = run.number(FixField.CADENCE, i);
      time = run.timeMs(i);
      timeGiven = time != Track.NO_TIME;
      usable = fixes.accepts(latitude, longitude);
      endFix();
    }
  }

  @Override
  void close() {
    if (walk.depth() == fixDepth) endFix();
    else if (walk.depth() == trackDepth) trackDepth = 0;
  }

  private void beginFix() {
    fixDepth = walk.depth();
    fixes.begin();
    walk.checkFixes(fixes.seen());
    timeGiven = false;
    time = Track.NO_TIME;
    height = Double.NaN;
    speed = Double.NaN;
    distance = Double.NaN;
    cadence = Double.NaN;
    try {
      usable = readPosition();
    } catch (XMLStreamException e) {
      // As where a text is asked for: the walk's reader takes this one.
      throw UncheckedStreamException.createFrom(e);
    }
  }

  private boolean readPosition() throws XMLStreamException {
    int lat = -1;
    int lon = -1;
    for (int i = 0; i < xml.getAttributeCount(); i++) {
      String name = xml.getAttributeLocalName(i);
      if (name.equals("lat")) lat = i;
      else if (name.equals("lon")) lon = i;
      else walk.otherAttribute(name);
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
    walk.forgetText();
    if (!usable) return;
    usable = false;
    if (!timeGiven) issues.add(Issue.Kind.TIME_MISSING, walk::line, "");
    fixes.add(latitude, longitude, height, time, distance, speed, cadence);
  }

  @Override
  void captured(CapturedText text) {
    if (text.isBlank()) return;
    boolean ofTrack = fixDepth == 0;
    if (!ofTrack && field == FixField.TIME) {
      timeGiven = true;
      if (usable) time = text.time(issues, walk::line);
      return;
    }
    double value = text.number();
    boolean isHeight = !ofTrack && field == FixField.HEIGHT;
    boolean readable = Double.isFinite(value) && (value >= 0 || isHeight);
    if (!readable) {
      Issue.Kind kind = isHeight ? Issue.Kind.HEIGHT_UNREADABLE : Issue.Kind.VALUE_UNREADABLE;
      issues.add(kind, walk::line, text.toString());
      return;
    }
    if (ofTrack) {
      total = Double.isNaN(total) ? value : total + value;
      return;
    }
    switch (field) {
      case HEIGHT -> height = value;
      case SPEED -> speed = value;
      case DISTANCE -> distance = value;
      case CADENCE -> cadence = value;
      default -> throw new IllegalStateException(field.name());
    }
  }

  @Override
  void breakOff() {
    if (fixDepth > 0) endFix();
  }

  @Override
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
