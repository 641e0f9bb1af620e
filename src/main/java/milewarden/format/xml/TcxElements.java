package milewarden.format.xml;

import java.util.Optional;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;

/**
 * TCX: activities of laps of tracks of points.
 *
 * <p>What is done where laps and tracks meet stands at {@link TcxLaps}.
 */
final class TcxElements extends ElementReader {
  /** What a text outside of the fixes is. */
  private enum Field {
    LAP_TIMER,
    LAP_DISTANCE,
    DEVICE
  }

  private final XmlWalk walk;
  private final IssueLog issues;
  private final FixBuffer fixes;
  private final TcxDevice device = new TcxDevice();
  private final TcxLaps laps = new TcxLaps();
  // What the text at hand is, outside of a fix and in one.
  private Field field = Field.DEVICE;
  private FixField ofFix = FixField.OTHER;
  private String deviceField = "";
  private int lapDepth;
  private int fixDepth;
  private int deviceDepth;
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
        laps.forget();
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
    FixField found = FixMarkup.TCX.text(name, false);
    if (found == FixField.OTHER || found == FixField.UNFIT) {
      walk.other(name);
      return;
    }
    ofFix = found;
    walk.capture();
  }

  private void capture(Field wanted) {
    field = wanted;
    walk.capture();
  }

  private void openLap() {
    lapDepth = walk.depth();
    boolean goesOn = laps.open(CapturedText.timeOf(walk.attribute("StartTime")));
    if (fixes.size() > 0 && goesOn) fixes.countMayBeginAnew();
  }

  private void openTrack() {
    if (laps.openTrack()) fixes.startSegment();
  }

  @Override
  Optional<FixMarkup> markup() {
    return Optional.of(FixMarkup.TCX);
  }

  @Override
  void fixes(FixRun run) {
    if (deviceDepth > 0) return;
    // A point inside a point is none of its own: its values are the outer one's.
    boolean inside = fixDepth > 0;
    walk.forgetText();
    for (int i = 0; i < run.size(); i++) {
      walk.atStart(run, i);
      if (!inside) openFix();
      walk.at(run, i);
      latitude = run.number(FixField.LATITUDE, i);
      longitude = run.number(FixField.LONGITUDE, i);
      height = or(run.number(FixField.HEIGHT, i), height);
      distance = or(run.number(FixField.DISTANCE, i), distance);
      speed = or(run.number(FixField.SPEED, i), speed);
      cadence = or(run.number(FixField.CADENCE, i), cadence);
      if (run.timeMs(i) != Track.NO_TIME) {
        time = run.timeMs(i);
        timeGiven = true;
      }
      if (!inside) closeFix();
    }
  }

  private static double or(double value, double otherwise) {
    return Double.isNaN(value) ? otherwise : value;
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
    boolean afterPause = fixes.atSegmentStart() && laps.isLaterTrack();
    if (afterPause && time != Track.NO_TIME && lastFixTime != Track.NO_TIME)
      laps.paused(time - lastFixTime);
    fixes.add(latitude, longitude, height, time, distance, speed, cadence);
    lastFixTime = time;
  }

  private void closeLap() {
    lapDepth = 0;
    laps.close();
  }

  @Override
  void captured(CapturedText text) {
    if (text.isBlank()) return;
    if (fixDepth > 0) capturedInFix(text);
    else capturedOutside(text);
  }

  private void capturedOutside(CapturedText text) {
    switch (field) {
      case DEVICE -> device.says(deviceField, text.toString());
      case LAP_TIMER -> laps.timer(value(text));
      case LAP_DISTANCE -> laps.distance(value(text));
    }
  }

  private void capturedInFix(CapturedText text) {
    switch (ofFix) {
      case TIME -> {
        timeGiven = true;
        time = text.time(issues, walk::line);
      }
      case LATITUDE -> latitude = position(text);
      case LONGITUDE -> longitude = position(text);
      case HEIGHT -> height = readable(text, Issue.Kind.HEIGHT_UNREADABLE, -Double.MAX_VALUE);
      case DISTANCE -> distance = value(text);
      case SPEED -> speed = value(text);
      case CADENCE -> cadence = value(text);
      default -> throw new IllegalStateException(ofFix.name());
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
    Track track = fixes.track("tcx", device.claim(), laps.totalM()).withLaps(laps.all());
    return new TrackRead.Usable(track, fixes.drops());
  }
}
