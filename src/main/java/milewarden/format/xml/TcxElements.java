package milewarden.format.xml;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.track.ClaimedLap;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;

/**
 * TCX: activities of laps of tracks of points.
 *
 * <p>Where laps and tracks meet: a second track inside a lap begins after a pause, so it begins a
 * segment and the jump to it is no length. The first track of the next lap goes on where the last
 * lap ended: the timer ran, so the metres between are the runner's and the segment goes on. Only
 * where the laps' own times say that the timer stood between them (the next start is later than
 * this start, its timer time and its pauses by more than {@link #WHOLE_SECONDS_MS}), a segment
 * begins there, too.
 */
final class TcxElements extends ElementReader {
  private enum Field {
    TIME,
    LATITUDE,
    LONGITUDE,
    HEIGHT,
    DISTANCE,
    SPEED,
    CADENCE,
    LAP_TIMER,
    LAP_DISTANCE,
    DEVICE
  }

  /** Start, end and timer are each written in whole seconds by many: two of them round apart. */
  private static final long WHOLE_SECONDS_MS = 2_000;

  private final XmlWalk walk;
  private final IssueLog issues;
  private final FixBuffer fixes;
  private final TcxDevice device = new TcxDevice();
  private final List<ClaimedLap> laps = new ArrayList<>();
  private Field field = Field.TIME;
  private String deviceField = "";
  private int lapDepth;
  private int fixDepth;
  private int deviceDepth;
  // The lap being read.
  private long lapStart = Track.NO_TIME;
  private double lapTimerS = Double.NaN;
  private double lapDistanceM = Double.NaN;
  private long lapPausesMs;
  private int tracksInLap;
  private boolean pauseBefore;
  // The fix being read.
  private double latitude;
  private double longitude;
  private double height;
  private double distance;
  private double speed;
  private double cadence;
  private long time;
  private boolean timeGiven;
  private boolean positionUnreadable;
  private long lastFixTime = Track.NO_TIME;

  /** The walk stands in the root. */
  TcxElements(XmlWalk walk) {
    this.walk = walk;
    issues = walk.issues();
    fixes = new FixBuffer(issues, walk::line);
  }

  @Override
  int fixesRead() {
    return fixes.size();
  }

  @Override
  void open(String name) {
    if (fixDepth > 0) openInFix(name);
    else if (deviceDepth > 0) openInDevice(name);
    else openOutside(name);
  }

  private void openOutside(String name) {
    boolean ofLap = lapDepth > 0 && walk.depth() == lapDepth + 1;
    switch (name) {
      case "Activity", "Course" -> {
        fixes.startSegment();
        forgetLap();
      }
      case "Lap" -> openLap();
      case "Track" -> openTrack();
      case "Trackpoint" -> openFix();
      case "Creator" -> deviceDepth = walk.depth();
      case "TotalTimeSeconds" -> {
        if (ofLap) capture(Field.LAP_TIMER);
      }
      case "DistanceMeters" -> {
        if (ofLap) capture(Field.LAP_DISTANCE);
      }
      default -> walk.other(name);
    }
  }

  private void openInDevice(String name) {
    deviceField = name;
    if (TcxDevice.knows(name)) capture(Field.DEVICE);
    else walk.other(name);
  }

  private void openInFix(String name) {
    switch (name) {
      case "Time" -> capture(Field.TIME);
      case "LatitudeDegrees" -> capture(Field.LATITUDE);
      case "LongitudeDegrees" -> capture(Field.LONGITUDE);
      case "AltitudeMeters" -> capture(Field.HEIGHT);
      case "DistanceMeters" -> capture(Field.DISTANCE);
      case "Speed" -> capture(Field.SPEED);
      case "Cadence", "RunCadence" -> capture(Field.CADENCE);
      // What holds those, and a pulse: the schema's own names, which nobody need count.
      case "Position", "Extensions", "TPX", "HeartRateBpm", "Value" -> {}
      default -> walk.other(name);
    }
  }

  private void capture(Field wanted) {
    field = wanted;
    walk.capture();
  }

  private void forgetLap() {
    lapStart = Track.NO_TIME;
    lapTimerS = Double.NaN;
    lapPausesMs = 0;
    tracksInLap = 0;
    pauseBefore = false;
  }

  private void openLap() {
    lapDepth = walk.depth();
    long start = CapturedText.timeOf(walk.attribute("StartTime"));
    boolean known = lapStart != Track.NO_TIME && start != Track.NO_TIME;
    double end = lapStart + lapTimerS * 1000 + lapPausesMs;
    // NaN compares as false: nothing says that the timer stood.
    pauseBefore = known && start - end > WHOLE_SECONDS_MS;
    if (fixes.size() > 0 && !pauseBefore) fixes.countMayBeginAnew();
    lapStart = start;
    lapTimerS = Double.NaN;
    lapDistanceM = Double.NaN;
    lapPausesMs = 0;
    tracksInLap = 0;
  }

  private void openTrack() {
    tracksInLap++;
    if (tracksInLap > 1 || pauseBefore) fixes.startSegment();
    pauseBefore = false;
  }

  private void openFix() {
    fixDepth = walk.depth();
    fixes.begin();
    walk.checkFixes(fixes.seen());
    latitude = Double.NaN;
    longitude = Double.NaN;
    height = Double.NaN;
    distance = Double.NaN;
    speed = Double.NaN;
    cadence = Double.NaN;
    time = Track.NO_TIME;
    timeGiven = false;
    positionUnreadable = false;
  }

  @Override
  void close() {
    int depth = walk.depth();
    if (depth == fixDepth) closeFix();
    else if (depth == lapDepth) closeLap();
    else if (depth == deviceDepth) deviceDepth = 0;
  }

  private void closeFix() {
    fixDepth = 0;
    walk.forgetText();
    if (Double.isNaN(latitude) || Double.isNaN(longitude)) {
      fixes.drop(
          positionUnreadable ? Issue.Kind.POSITION_NOT_A_NUMBER : Issue.Kind.NO_POSITION, "");
      return;
    }
    if (!fixes.accepts(latitude, longitude)) return;
    if (!timeGiven) issues.add(Issue.Kind.TIME_MISSING, walk::line, "");
    boolean afterPause = fixes.atSegmentStart() && tracksInLap > 1;
    if (afterPause && time != Track.NO_TIME && lastFixTime != Track.NO_TIME)
      lapPausesMs += Math.max(0, time - lastFixTime);
    fixes.add(latitude, longitude, height, time, distance, speed, cadence);
    lastFixTime = time;
  }

  private void closeLap() {
    lapDepth = 0;
    laps.add(
        new ClaimedLap(
            lapStart == Track.NO_TIME
                ? Optional.empty()
                : Optional.of(Instant.ofEpochMilli(lapStart)),
            Optional.empty(),
            optional(lapDistanceM),
            optional(lapTimerS)));
  }

  private static OptionalDouble optional(double value) {
    return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
  }

  @Override
  void captured(CapturedText text) {
    if (text.isBlank()) return;
    switch (field) {
      case TIME -> {
        timeGiven = true;
        time = text.time(issues, walk::line);
      }
      case DEVICE -> device.says(deviceField, text.toString());
      case LATITUDE -> latitude = position(text);
      case LONGITUDE -> longitude = position(text);
      case HEIGHT -> height = readable(text, Issue.Kind.HEIGHT_UNREADABLE, -Double.MAX_VALUE);
      case DISTANCE -> distance = value(text);
      case SPEED -> speed = value(text);
      case CADENCE -> cadence = value(text);
      case LAP_TIMER -> lapTimerS = value(text);
      case LAP_DISTANCE -> lapDistanceM = value(text);
    }
  }

  private double position(CapturedText text) {
    double value = text.number();
    if (!Double.isFinite(value)) positionUnreadable = true;
    return Double.isFinite(value) ? value : Double.NaN;
  }

  private double value(CapturedText text) {
    return readable(text, Issue.Kind.VALUE_UNREADABLE, 0);
  }

  private double readable(CapturedText text, Issue.Kind otherwise, double least) {
    double value = text.number();
    if (Double.isFinite(value) && value >= least) return value;
    issues.add(otherwise, walk::line, text.toString());
    return Double.NaN;
  }

  @Override
  void breakOff() {
    if (fixDepth > 0) closeFix();
    if (lapDepth > 0) closeLap();
  }

  @Override
  TrackRead finished() {
    if (fixes.size() == 0) {
      String found =
          fixes.seen() == 0
              ? "no track points"
              : fixes.seen() + " track points, none with a usable position";
      return new TrackRead.Refused(Issue.of(Issue.Kind.NO_FIXES, found));
    }
    Track track = fixes.track("tcx", device.claim(), total()).withLaps(laps);
    return new TrackRead.Usable(track, fixes.drops());
  }

  /** The laps' distances, where every lap has one. */
  private OptionalDouble total() {
    if (laps.isEmpty() || laps.stream().anyMatch(l -> l.distanceM().isEmpty()))
      return OptionalDouble.empty();
    return OptionalDouble.of(laps.stream().mapToDouble(l -> l.distanceM().getAsDouble()).sum());
  }
}
