package milewarden.intake;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.run.Runs;

/** One recording in two files: same unit, times that overlap for the most part. */
final class SameRecording {
  // More than 80 % of the shorter one: the rule of the drop folder.
  private static final int OVERLAP_PERCENT = 80;

  private SameRecording() {}

  /**
   * Holds a run where an earlier one that counts is perhaps the same recording.
   *
   * @param run of one that is not held
   */
  static void hold(Tx tx, RunId id, Runs.Facts run) {
    Optional<Instant> end = run.endedAt();
    if (end.isEmpty() || !Runs.isOverlapped(tx, run.unit(), run.startedAt(), end.get(), id)) return;
    List<Runs.Run> others = Runs.overlapping(tx, run.unit(), run.startedAt(), end.get());
    others.stream()
        .filter(o -> !o.id().equals(id) && o.heldFor().isEmpty() && o.file().isPresent())
        .filter(o -> isSame(run, o.facts()))
        .findFirst()
        .ifPresent(o -> Runs.hold(tx, id, Optional.of(o.id())));
  }

  private static boolean isSame(Runs.Facts a, Runs.Facts b) {
    Instant endA = a.endedAt().orElse(a.startedAt());
    Instant endB = b.endedAt().orElse(b.startedAt());
    Duration together = Duration.between(later(a.startedAt(), b.startedAt()), earlier(endA, endB));
    Duration shorter =
        min(Duration.between(a.startedAt(), endA), Duration.between(b.startedAt(), endB));
    return together.multipliedBy(100).compareTo(shorter.multipliedBy(OVERLAP_PERCENT)) > 0;
  }

  private static Instant later(Instant a, Instant b) {
    return a.isAfter(b) ? a : b;
  }

  private static Instant earlier(Instant a, Instant b) {
    return a.isBefore(b) ? a : b;
  }

  private static Duration min(Duration a, Duration b) {
    return a.compareTo(b) < 0 ? a : b;
  }
}
