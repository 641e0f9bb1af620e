package milewarden.format.fit;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.track.ClaimedLap;
import milewarden.track.Issue;
import milewarden.track.TimerPause;
import milewarden.track.Track;
import milewarden.track.TrackRead;

/** What the messages say of one recording: fixes, laps, totals, the timer, the device. */
final class FitRecording {
  // Numbers of messages and fields, scales and offsets are from memory; the position's unit and the
  // epoch are published with the layout.
  static final int TIMESTAMP = 253;

  private static final int FILE_ID = 0;
  private static final int SESSION = 18;
  private static final int LAP = 19;
  private static final int RECORD = 20;
  private static final int EVENT = 21;
  private static final int DEVICE_INFO = 23;
  private static final int FILE_CREATOR = 49;

  /** 1989-12-31T00:00:00Z in seconds since 1970. */
  private static final long EPOCH_S = 631_065_600L;

  private static final double DEGREES = 180.0 / (1L << 31);

  /** Heights are fifths of a metre above 500 m below zero. */
  private static final double HEIGHT_SCALE = 5;

  private static final long HEIGHT_OFFSET = 500 * 5;
  private static final double CENTI = 100;
  private static final double MILLI = 1000;

  private final IssueLog issues = new IssueLog();
  private final FixBuffer fixes;
  private final Supplier<String> place;
  private final FitDevice device = new FitDevice();
  private final PackedDistance packed = new PackedDistance();
  private final List<ClaimedLap> laps = new ArrayList<>();
  private final List<TimerPause> pauses = new ArrayList<>();
  private OptionalDouble sessionsM = OptionalDouble.empty();
  private OptionalDouble lapsM = OptionalDouble.empty();
  private long stoppedAt = FitMessage.NONE;
  private long fileType = FitMessage.NONE;
  private Optional<String> brokenOff = Optional.empty();

  FitRecording(Supplier<String> place) {
    this.place = place;
    fixes = new FixBuffer(issues, place);
  }

  int fixes() {
    return fixes.size();
  }

  int seen() {
    return fixes.seen();
  }

  void issue(Issue.Kind kind, String detail) {
    if (kind == Issue.Kind.TRUNCATED) brokenOff = Optional.of(detail);
    issues.add(kind, place, detail);
  }

  /** Another file behind the last one: it goes on, and its fixes are not joined to those before. */
  void startPart() {
    fixes.startSegment();
    packed.restart();
    stoppedAt = FitMessage.NONE;
  }

  /**
   * @param time seconds since the format's epoch, or {@link FitMessage#NONE}
   */
  void accept(FitMessage message, long time) {
    switch (message.number()) {
      case RECORD -> record(message, time);
      case LAP -> lap(message, time);
      case SESSION ->
          sessionsM =
              plus(sessionsM, notNegative(scaled(message.value(9), CENTI), "a session's distance"));
      case EVENT -> event(message, time);
      case FILE_ID -> {
        if (fileType == FitMessage.NONE) fileType = message.value(0);
        device.fileId(message);
      }
      case DEVICE_INFO -> device.deviceInfo(message);
      case FILE_CREATOR -> device.fileCreator(message);
      default -> {
        // Heart rates, zones, settings: not of distance.
      }
    }
  }

  private void record(FitMessage m, long time) {
    fixes.begin();
    long latitude = m.value(0);
    long longitude = m.value(1);
    long packedValue = m.packed(8, 3);
    double speed = first(scaled(m.value(73), MILLI), scaled(m.value(6), MILLI));
    double distance = scaled(m.value(5), CENTI);
    if (packedValue != FitMessage.NONE) {
      distance = Double.isNaN(distance) ? packed.metres(packedValue) : distance;
      speed = Double.isNaN(speed) ? PackedDistance.speedMps(packedValue) : speed;
    }
    if (latitude == FitMessage.NONE || longitude == FitMessage.NONE) {
      fixes.drop(Issue.Kind.NO_POSITION, "");
      return;
    }
    double latitudeDeg = latitude * DEGREES;
    double longitudeDeg = longitude * DEGREES;
    if (!fixes.accepts(latitudeDeg, longitudeDeg)) return;
    if (time == FitMessage.NONE) issues.add(Issue.Kind.TIME_MISSING, place, "");
    double height = first(heightM(m.value(78)), heightM(m.value(2)));
    fixes.add(latitudeDeg, longitudeDeg, height, ms(time), distance, speed, cadence(m));
  }

  /** Turns or steps of one foot a minute, with their fraction where given (scale 128). */
  private static double cadence(FitMessage m) {
    long whole = m.value(4);
    if (whole == FitMessage.NONE) return Double.NaN;
    long fraction = m.value(53);
    return whole + (fraction == FitMessage.NONE ? 0 : fraction / 128.0);
  }

  private void lap(FitMessage m, long time) {
    double distance = notNegative(scaled(m.value(9), CENTI), "a lap's distance");
    lapsM = plus(lapsM, distance);
    double timer = notNegative(scaled(m.value(8), MILLI), "a lap's time");
    laps.add(
        new ClaimedLap(instant(m.value(2)), instant(time), optional(distance), optional(timer)));
  }

  /** A definition may give a field a type with a sign; a sum below zero is none. */
  private double notNegative(double value, String what) {
    if (!(value < 0)) return value;
    issues.add(Issue.Kind.VALUE_UNREADABLE, place, what + " of " + value);
    return Double.NaN;
  }

  /** Event 0 is the timer; 0 starts it, 1, 4, 8 and 9 stop it. */
  private void event(FitMessage m, long time) {
    if (m.value(0) != 0 || time == FitMessage.NONE) return;
    long type = m.value(1);
    if (type == 0) {
      if (stoppedAt != FitMessage.NONE && time > stoppedAt)
        pauses.add(
            new TimerPause(Instant.ofEpochMilli(ms(stoppedAt)), Instant.ofEpochMilli(ms(time))));
      stoppedAt = FitMessage.NONE;
    } else if (type == 1 || type == 4 || type == 8 || type == 9) {
      if (stoppedAt == FitMessage.NONE) stoppedAt = time;
    }
  }

  private static OptionalDouble plus(OptionalDouble sum, double more) {
    return Double.isNaN(more) ? sum : OptionalDouble.of(sum.orElse(0) + more);
  }

  private static OptionalDouble optional(double value) {
    return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
  }

  private static double first(double better, double other) {
    return Double.isNaN(better) ? other : better;
  }

  private static double scaled(long value, double scale) {
    return value == FitMessage.NONE ? Double.NaN : value / scale;
  }

  private static double heightM(long value) {
    return value == FitMessage.NONE ? Double.NaN : (value - HEIGHT_OFFSET) / HEIGHT_SCALE;
  }

  private static Optional<Instant> instant(long time) {
    return time == FitMessage.NONE
        ? Optional.empty()
        : Optional.of(Instant.ofEpochSecond(time + EPOCH_S));
  }

  private static long ms(long time) {
    return time == FitMessage.NONE ? Track.NO_TIME : (time + EPOCH_S) * 1000;
  }

  TrackRead finished() {
    if (fixes.size() == 0) return new TrackRead.Refused(Issue.of(Issue.Kind.NO_FIXES, nothing()));
    OptionalDouble total = sessionsM.isPresent() ? sessionsM : lapsM;
    fixes.splitAt(pauses);
    Track track = fixes.track("fit", device.claim(), total);
    return new TrackRead.Usable(track.withLaps(laps).withPauses(pauses), fixes.drops());
  }

  private String nothing() {
    String broken = brokenOff.map(at -> "; it is cut short: " + at).orElse("");
    if (fixes.seen() > 0) return fixes.seen() + " records, none with a usable position" + broken;
    String type = fileType == FitMessage.NONE ? "" : "; file type " + fileType;
    return "no records" + type + broken;
  }
}
