package milewarden.format.text;

import java.io.InputStream;
import java.io.UncheckedIOException;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.regex.Pattern;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.DeviceClaim;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;

/**
 * Logs of NMEA 0183: what RMC, GGA and GNS say of one instant is one fix.
 *
 * <p>The date comes from RMC or ZDA and moves on at midnight. Fixes before the first date get it
 * too. Where none comes, the times of day are kept from 1970-01-01 on, and that is said. A date
 * that rolled over after 1,024 weeks is left as it stands.
 */
public final class NmeaReader {
  private static final Pattern FIRST = Pattern.compile("\\$(?:G[PNLABQI]|BD)[A-Z]{3},");

  // First Int. Extraordinary Hydrographic Conference, Monaco (1929): 1852 m, exact.
  private static final double MPS_PER_KNOT = 1852.0 / 3600;
  private static final long DAY_MS = 86_400_000L;
  private static final long HALF_DAY_MS = DAY_MS / 2;

  /** Days since 1970 that stand in until a date comes: 2000-01-01. */
  private static final long UNDATED = 10_957;

  // Which sentences told of the instant at hand: a second of one kind begins another instant.
  private static final int RMC = 1;
  private static final int GGA = 2;
  private static final int GNS = 4;
  private static final int ZDA = 8;

  private final Lines lines;
  private final ReadLimits limits;
  private final IssueLog issues = new IssueLog();
  private final FixBuffer fixes;
  private final NmeaSentence sentence = new NmeaSentence();
  private OptionalLong day = OptionalLong.empty();
  // A date as it was written last, and the day that it was: it is the same nearly always.
  private long lastDate;
  private OptionalLong lastDay = OptionalLong.empty();
  private boolean rolledOver;
  private long undatedDays;
  private int kindsSeen;
  // The instant being read.
  private int timeOfDay = -1;
  private boolean timeUnknown = true;
  private boolean begun;
  private double latitude;
  private double longitude;
  private boolean fromGga;
  private boolean withoutFix;
  private double height;
  private double speed;

  public NmeaReader(FileHead head, InputStream rest, ReadLimits limits) {
    this.limits = limits;
    lines = new Lines(head, rest, limits);
    fixes = new FixBuffer(issues, lines::place);
  }

  /** Whether a file that begins so is of this format. */
  public static boolean recognises(FileHead head) {
    return FIRST.matcher(head.text()).find();
  }

  /**
   * Reads to the end of the file.
   *
   * @throws UncheckedIOException where the stream below fails
   */
  public TrackRead read() {
    try {
      while (lines.next()) {
        if (fixes.seen() > limits.fixes())
          return new TrackRead.Refused(
              Issue.at(Issue.Kind.TOO_MANY_FIXES, lines.place(), "more than " + limits.fixes()));
        line();
      }
    } catch (Lines.TooLong e) {
      return new TrackRead.Refused(lines.tooLong(e));
    }
    endInstant();
    return finished();
  }

  private void line() {
    switch (sentence.take(lines)) {
      case DAMAGED -> issues.add(Issue.Kind.LINE_DAMAGED, lines::place, lines.text());
      case SENTENCE -> sentence();
      case NO_SENTENCE -> {
        // A log's own lines between the sentences.
      }
    }
  }

  private void sentence() {
    switch (sentence.kind()) {
      case RMC -> {
        instant(RMC);
        date(9);
        if (sentence.sign(2) == 'V') withoutFix = true;
        else position(3, false);
        double knots = sentence.number(7);
        if (knots >= 0 && Double.isFinite(knots * MPS_PER_KNOT)) speed = knots * MPS_PER_KNOT;
      }
      case GGA -> {
        instant(GGA);
        if (sentence.sign(6) == '0') withoutFix = true;
        else position(2, true);
        height(9);
      }
      case GNS -> {
        instant(GNS);
        position(2, true);
        height(9);
      }
      case ZDA -> {
        instant(ZDA);
        date(sentence.number(4), sentence.number(3), sentence.number(2));
      }
      case OTHER -> {
        // Satellites in view, courses, a receiver's own.
      }
    }
  }

  /** The sentence tells of this time of day: a new instant, or more of the one at hand. */
  private void instant(int kind) {
    int time = sentence.timeOfDayMs(1);
    if (time == timeOfDay && time >= 0 && (kindsSeen & kind) == 0) {
      kindsSeen |= kind;
      return;
    }
    endInstant();
    kindsSeen = kind;
    if (timeOfDay >= 0 && time >= 0 && timeOfDay - time > HALF_DAY_MS) midnight();
    if (time >= 0) timeOfDay = time;
    timeUnknown = time < 0;
    latitude = Double.NaN;
    longitude = Double.NaN;
    height = Double.NaN;
    speed = Double.NaN;
    fromGga = false;
    withoutFix = false;
    begun = false;
  }

  private void midnight() {
    if (day.isPresent()) {
      day = OptionalLong.of(day.getAsLong() + 1);
      rolledOver = true;
    } else {
      undatedDays++;
    }
  }

  private void position(int field, boolean gga) {
    begun = true;
    double lat = sentence.degrees(field, 'N', 'S');
    double lon = sentence.degrees(field + 2, 'E', 'W');
    if (Double.isNaN(lat) || Double.isNaN(lon)) return;
    // Both say the same place; the one that carries the height is kept.
    if (Double.isNaN(latitude) || gga && !fromGga) {
      latitude = lat;
      longitude = lon;
      fromGga = gga;
    }
  }

  private void height(int field) {
    double value = sentence.number(field);
    if (Double.isFinite(value)) height = value;
  }

  private void date(int field) {
    long signs = sentence.sixSigns(field);
    if (signs != 0 && signs == lastDate && day.equals(lastDay)) {
      rolledOver = false;
      return;
    }
    int plain = sentence.sixDigits(field);
    double ddmmyy = plain >= 0 ? plain : sentence.number(field);
    if (!(ddmmyy >= 10_100)) return;
    int value = (int) ddmmyy;
    int year = value % 100;
    // The system's first full year: two digits of 80 and more are the last century's.
    boolean holds = date(year >= 80 ? 1900 + year : 2000 + year, value / 100 % 100, value / 10_000);
    lastDate = holds ? signs : 0;
    lastDay = day;
  }

  /** Whether it is the day that holds from here on. */
  private boolean date(double year, double month, double dayOfMonth) {
    if (Double.isNaN(year + month + dayOfMonth)) return false;
    try {
      long found = LocalDate.of((int) year, (int) month, (int) dayOfMonth).toEpochDay();
      if (day.isEmpty()) fixes.shiftTimes((found - undatedDays - UNDATED) * DAY_MS);
      // The date of the sentence that made the day turn may be the old one.
      boolean holds = !rolledOver || day.isEmpty() || found >= day.getAsLong();
      if (holds) day = OptionalLong.of(found);
      rolledOver = false;
      return holds;
    } catch (DateTimeException e) {
      issues.add(Issue.Kind.TIME_UNREADABLE, lines::place, lines.text());
      return false;
    }
  }

  private void endInstant() {
    boolean anything = begun || withoutFix;
    if (!anything) return;
    fixes.begin();
    begun = false;
    boolean none = Double.isNaN(latitude);
    if (none) {
      boolean said = withoutFix;
      withoutFix = false;
      fixes.drop(
          said ? Issue.Kind.NO_POSITION : Issue.Kind.POSITION_NOT_A_NUMBER,
          said ? "the receiver had no fix" : "");
      return;
    }
    withoutFix = false;
    if (!fixes.accepts(latitude, longitude)) return;
    long date = day.orElse(UNDATED + undatedDays) * DAY_MS;
    if (timeUnknown) issues.add(Issue.Kind.TIME_MISSING, lines::place, "");
    long time = timeUnknown ? Track.NO_TIME : date + timeOfDay;
    fixes.add(latitude, longitude, height, time, Double.NaN, speed, Double.NaN);
  }

  private TrackRead finished() {
    if (fixes.size() == 0) {
      String found =
          fixes.seen() == 0 ? "no positions" : fixes.seen() + " instants, none with a position";
      return new TrackRead.Refused(Issue.of(Issue.Kind.NO_FIXES, found));
    }
    if (day.isEmpty()) {
      issues.add(Issue.Kind.TIME_WITHOUT_DATE, () -> "the whole file", "");
      fixes.shiftTimes(-UNDATED * DAY_MS);
    }
    Track track = fixes.track("nmea", DeviceClaim.NONE, OptionalDouble.empty());
    return new TrackRead.Usable(track, fixes.drops());
  }
}
