package milewarden.intake;

import java.time.Duration;
import java.util.Map;
import milewarden.track.TagName;

/**
 * How files are taken in.
 *
 * @param poll how often the drop folder is looked through
 * @param standStill how long a file's size and time must not have changed before it is read
 * @param sessionGap recordings that start within this span of each other, on one local date, are
 *     one session where no session is named
 * @param defaults tags for tracks that nothing else tells
 */
public record InboxSettings(
    Duration poll, Duration standStill, Duration sessionGap, Map<TagName, String> defaults) {
  // Every 500 ms, 2 s of standing still and 3 hours: the rules of the drop folder.
  public static final InboxSettings DEFAULTS =
      new InboxSettings(
          Duration.ofMillis(500), Duration.ofSeconds(2), Duration.ofHours(3), Map.of());

  public InboxSettings {
    defaults = Map.copyOf(defaults);
  }
}
