package milewarden.intake.tag;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.track.Track;

/**
 * What a tester says to a recording whose clock is doubtful.
 *
 * @param by what is to be added to its times; of {@link Kind#MOVED} alone not zero
 * @param began of {@link Kind#BEGAN} alone, local time
 */
public record ClockAnswer(Kind kind, Duration by, Optional<LocalDateTime> began) {
  /** In which way. */
  public enum Kind {
    /** Its times are right. */
    AS_READ,
    /** They are local times of the zone that is set. */
    LOCAL,
    /** They are to be moved. */
    MOVED,
    /** They are to be moved so that it begins when its tester says. */
    BEGAN
  }

  // IS-GPS-200: the week number of the navigation message has 10 bits.
  public static final Duration ROLLOVER = Duration.ofDays(1024 * 7);

  public static final ClockAnswer AS_READ = plain(Kind.AS_READ);
  public static final ClockAnswer LOCAL = plain(Kind.LOCAL);

  // From UTC-12 to UTC+14.
  private static final Duration WIDEST = Duration.ofHours(26);
  private static final Pattern HOURS = Pattern.compile("([+-])(\\d{1,2}):(\\d{2})");
  private static final Pattern WEEKS = Pattern.compile("([+-])(\\d{4,5}) ?weeks?");
  private static final Pattern DAYS =
      Pattern.compile("([+-])(\\d{1,5}) ?days?(?: ([01]?\\d|2[0-3]):([0-5]\\d))?");
  private static final Pattern BEGAN =
      Pattern.compile("began (\\d{4}-\\d{2}-\\d{2})[ t](\\d{2}:\\d{2}(?::\\d{2})?)");

  public static ClockAnswer movedBy(Duration by) {
    return new ClockAnswer(Kind.MOVED, by, Optional.empty());
  }

  private static ClockAnswer plain(Kind kind) {
    return new ClockAnswer(kind, Duration.ZERO, Optional.empty());
  }

  /**
   * Reads {@code as-read}, {@code local}, {@code -02:00}, {@code +1024 weeks}, {@code +12 days},
   * {@code -3 days 01:30} or {@code began 2026-05-12 07:05}.
   */
  public static Optional<ClockAnswer> of(String text) {
    String said = text.strip().toLowerCase(Locale.ROOT).replace('\u2212', '-');
    if (said.replace(' ', '-').equals("as-read")) return Optional.of(AS_READ);
    if (said.equals("local")) return Optional.of(LOCAL);
    Matcher hours = HOURS.matcher(said);
    if (hours.matches()) {
      long minutes = Long.parseLong(hours.group(2)) * 60 + Long.parseLong(hours.group(3));
      return moved(hours.group(1), Duration.ofMinutes(minutes))
          .filter(a -> minutes % 15 == 0 && a.by().abs().compareTo(WIDEST) <= 0);
    }
    Matcher weeks = WEEKS.matcher(said);
    if (weeks.matches()) {
      long n = Long.parseLong(weeks.group(2));
      return moved(weeks.group(1), Duration.ofDays(7 * n)).filter(a -> n % 1024 == 0);
    }
    Matcher days = DAYS.matcher(said);
    return days.matches() ? days(days) : began(said);
  }

  // A clock that was never set is off by anything, to the minute.
  private static Optional<ClockAnswer> days(Matcher days) {
    Duration by = Duration.ofDays(Long.parseLong(days.group(2)));
    if (days.group(3) != null)
      by = by.plusHours(Long.parseLong(days.group(3))).plusMinutes(Long.parseLong(days.group(4)));
    return moved(days.group(1), by);
  }

  private static Optional<ClockAnswer> began(String said) {
    Matcher at = BEGAN.matcher(said);
    if (!at.matches()) return Optional.empty();
    return TagReader.parse(at.group(1) + "T" + at.group(2), LocalDateTime::parse)
        .map(began -> new ClockAnswer(Kind.BEGAN, Duration.ZERO, Optional.of(began)));
  }

  private static Optional<ClockAnswer> moved(String sign, Duration by) {
    if (by.isZero()) return Optional.empty();
    return Optional.of(movedBy(sign.equals("-") ? by.negated() : by));
  }

  /** The word in files and forms. */
  public String code() {
    if (began.isPresent()) return "began " + began.get().toString().replace('T', ' ');
    if (kind != Kind.MOVED) return kind.name().toLowerCase(Locale.ROOT).replace('_', '-');
    String sign = by.isNegative() ? "-" : "+";
    Duration size = by.abs();
    if (size.toMillis() % ROLLOVER.toMillis() == 0) return sign + size.toDays() / 7 + " weeks";
    if (size.compareTo(WIDEST) > 0 || size.toMinutes() % 15 != 0) return sign + inDays(size);
    return String.format(Locale.ROOT, "%s%02d:%02d", sign, size.toHours(), size.toMinutesPart());
  }

  private static String inDays(Duration size) {
    String days = size.toDays() + (size.toDays() == 1 ? " day" : " days");
    return size.toSecondsPart() == 0 && size.toHoursPart() + size.toMinutesPart() == 0
        ? days
        : days + String.format(Locale.ROOT, " %02d:%02d", size.toHoursPart(), size.toMinutesPart());
  }

  /**
   * What is added to the times of this track.
   *
   * @param zone of local times
   */
  public Duration shift(Track track, ZoneId zone) {
    if (kind == Kind.LOCAL)
      return track.startedAt().map(start -> local(start, zone)).orElse(Duration.ZERO);
    return began
        .map(at -> at.atZone(zone).toInstant())
        .flatMap(at -> track.startedAt().map(start -> Duration.between(start, at)))
        .orElse(by);
  }

  /** What makes of a local time that was read as UTC the instant that was meant. */
  public static Duration local(Instant readAsUtc, ZoneId zone) {
    LocalDateTime local = LocalDateTime.ofInstant(readAsUtc, ZoneOffset.UTC);
    return Duration.between(readAsUtc, local.atZone(zone).toInstant());
  }
}
