package milewarden.intake.drop;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import milewarden.intake.drop.DropFolder.Seen;

/**
 * Which files have stood still: neither size nor time has changed between two looks that lie far
 * enough apart. A file's own time isn't trusted: copying tools set it back.
 */
public final class StandStill {
  private final Duration wanted;
  private Map<Path, Since> known = new HashMap<>();

  public StandStill(Duration wanted) {
    this.wanted = wanted;
  }

  private record Since(long sizeBytes, long changedMs, Instant at) {
    boolean same(Seen seen) {
      return sizeBytes == seen.sizeBytes() && changedMs == seen.changedMs();
    }
  }

  /** Of the files that are there now, those that have stood still; the others are forgotten. */
  public List<Seen> of(List<Seen> files, Instant now) {
    Map<Path, Since> next = new HashMap<>();
    List<Seen> still = new ArrayList<>();
    for (Seen seen : files) {
      Since before = known.get(seen.file());
      // A clock that was put back would make a file wait for hours.
      boolean holds = before != null && before.same(seen) && !before.at().isAfter(now);
      Since since =
          holds && before != null ? before : new Since(seen.sizeBytes(), seen.changedMs(), now);
      next.put(seen.file(), since);
      if (!now.isBefore(since.at().plus(wanted))) still.add(seen);
    }
    known = next;
    return still;
  }
}
