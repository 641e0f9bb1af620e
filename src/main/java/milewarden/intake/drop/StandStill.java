package milewarden.intake.drop;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.intake.drop.DropFolder.Seen;

/**
 * Which files have stood still: neither size nor time has changed between two looks that lie far
 * enough apart. A file's own time isn't trusted: copying tools set it back.
 */
public final class StandStill {
  private final Duration wanted;
  private Map<Path, Since> known = new HashMap<>();
  private Optional<Instant> next = Optional.empty();

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
    Map<Path, Since> seenNow = new HashMap<>();
    next = Optional.empty();
    List<Seen> still = new ArrayList<>();
    for (Seen seen : files) {
      Since before = known.get(seen.file());
      // A clock that was put back would make a file wait for hours.
      boolean holds = before != null && before.same(seen) && !before.at().isAfter(now);
      Since since =
          holds && before != null ? before : new Since(seen.sizeBytes(), seen.changedMs(), now);
      seenNow.put(seen.file(), since);
      Instant ripe = since.at().plus(wanted);
      if (!now.isBefore(ripe)) still.add(seen);
      else next = next.filter(n -> n.isBefore(ripe)).or(() -> Optional.of(ripe));
    }
    known = seenNow;
    return still;
  }

  /** When the first of those that were too young at the last look may have stood still. */
  public Optional<Instant> next() {
    return next;
  }
}
