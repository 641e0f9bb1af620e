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
 */
public record ClockAnswer(Kind kind, Duration by) {
  /** In which way. */
  public enum Kind {
    /** Its times are right. */
    AS_READ,
    /** They are local times of the zone that is set. */
    LOCAL,
    /** They are to be moved. */
    MOVED
  }

  // IS-GPS-200: the week number of the navigation message has 10 bits.
  public static final Duration ROLLOVER = Duration.ofDays(1024 * 7);

  public static final ClockAnswer AS_READ = new ClockAnswer(Kind.AS_READ, Duration.ZERO);
  public static final ClockAnswer LOCAL = new ClockAnswer(Kind.LOCAL, Duration.ZERO);

  // From UTC-12 to UTC+14.
  private static final Duration WIDEST = Duration.ofHours(26);
  private static final Pattern HOURS = Pattern.compile("([+-])(\\d{1,2}):(\\d{2})");
  private static final Pattern WEEKS = Pattern.compile("([+-])(\\d{4,5}) ?weeks?");

  public static ClockAnswer movedBy(Duration by) {
    return new ClockAnswer(Kind.MOVED, by);
  }

  /** Reads {@code as-read}, {@code local}, {@code -02:00} or {@code +1024 weeks}. */
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
    if (!weeks.matches()) return Optional.empty();
    long n = Long.parseLong(weeks.group(2));
    return moved(weeks.group(1), Duration.ofDays(7 * n)).filter(a -> n % 1024 == 0);
  }

  private static Optional<ClockAnswer> moved(String sign, Duration by) {
    if (by.isZero()) return Optional.empty();
    return Optional.of(movedBy(sign.equals("-") ? by.negated() : by));
  }

  /** The word in files and forms. */
  public String code() {
    if (kind != Kind.MOVED) return kind.name().toLowerCase(Locale.ROOT).replace('_', '-');
    String sign = by.isNegative() ? "-" : "+";
    Duration size = by.abs();
    if (size.compareTo(WIDEST) > 0) return sign + size.toDays() / 7 + " weeks";
    return String.format(Locale.ROOT, "%s%02d:%02d", sign, size.toHours(), size.toMinutesPart());
  }

  /**
   * What is added to the times of this track.
   *
   * @param zone of local times
   */
  public Duration shift(Track track, ZoneId zone) {
    if (kind != Kind.LOCAL) return by;
    return track.startedAt().map(start -> local(start, zone)).orElse(Duration.ZERO);
  }

  /** What makes of a local time that was read as UTC the instant that was meant. */
  public static Duration local(Instant readAsUtc, ZoneId zone) {
    LocalDateTime local = LocalDateTime.ofInstant(readAsUtc, ZoneOffset.UTC);
    return Duration.between(readAsUtc, local.atZone(zone).toInstant());
  }
}
