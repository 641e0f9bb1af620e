package milewarden.recipient;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Optional;

/**
 * Hours of every day in which a message waits; over midnight where they end before they begin.
 *
 * @param to not {@code from}: the hours would be a whole day or nothing
 */
public record QuietHours(LocalTime from, LocalTime to, ZoneId zone) {
  public QuietHours {
    if (from.equals(to)) throw new IllegalArgumentException("quiet hours that end as they begin");
  }

  /** When the quiet hours end that hold now; empty where none do. */
  public Optional<Instant> until(Instant now) {
    LocalDate today = now.atZone(zone).toLocalDate();
    for (LocalDate day : new LocalDate[] {today.minusDays(1), today}) {
      Instant begin = new DailyTime(from, zone).on(day);
      Instant end = new DailyTime(to, zone).on(to.isAfter(from) ? day : day.plusDays(1));
      if (!begin.isAfter(now) && now.isBefore(end)) return Optional.of(end);
    }
    return Optional.empty();
  }
}
