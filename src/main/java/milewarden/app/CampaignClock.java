package milewarden.app;

import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;

/** The time within the invented campaign: it goes on when it is told to, and never back. */
final class CampaignClock implements InstantSource {
  private Instant now;

  CampaignClock(Instant start) {
    now = start;
  }

  @Override
  public synchronized Instant instant() {
    return now;
  }

  /** Goes on to {@code then}, where it lies ahead. */
  synchronized void moveTo(Instant then) {
    if (then.isAfter(now)) now = then;
  }

  synchronized void goOn(Duration span) {
    now = now.plus(span);
  }
}
