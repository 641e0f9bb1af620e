package milewarden.intake;

import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Optional;
import milewarden.intake.tag.RunTags;

/** When a run without times of its own began. */
final class RunStart {
  private RunStart() {}

  /** The date and time of the sheet; noon where it gives a date alone; empty without a date. */
  static Optional<Instant> of(RunTags tags, ZoneId zone) {
    return tags.date()
        .map(date -> date.atTime(tags.time().orElse(LocalTime.NOON)).atZone(zone).toInstant());
  }
}
