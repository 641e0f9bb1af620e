package milewarden.recipient;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;

/**
 * A time of day, once on every local date. Where the zone's clock skips it, it comes later by as
 * much as was skipped; where the clock shows it twice, it is the first of the two.
 */
public record DailyTime(LocalTime at, ZoneId zone) {

  /** The moment of a local date. */
  public Instant on(LocalDate day) {
    return ZonedDateTime.of(day, at, zone).toInstant();
  }

  /** The last local date whose moment has come. */
  public LocalDate latest(Instant now) {
    LocalDate today = now.atZone(zone).toLocalDate();
    return on(today).isAfter(now) ? today.minusDays(1) : today;
  }

  /**
   * True where the moment of a date has come that was not served yet. A clock that was set back
   * serves no date twice; a served date further ahead than a day was served by a clock that was
   * wrong, and is not believed.
   */
  public boolean isDue(LocalDate served, Instant now) {
    LocalDate latest = latest(now);
    return latest.isAfter(served) || served.isAfter(now.atZone(zone).toLocalDate().plusDays(1));
  }
}
