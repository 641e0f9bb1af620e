package milewarden.intake.drop;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import milewarden.intake.drop.DropFolder.Look;
import milewarden.intake.drop.DropFolder.Seen;
import milewarden.intake.drop.Receiving.Stored;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.StoreUnavailable;
import milewarden.store.Tx;
import milewarden.store.file.Batches;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;

/**
 * The drop folder: whatever stood still goes into the store, and leaves the folder once its fate is
 * known. Between two sweeps nothing is remembered that the folder and the store don't tell.
 */
public final class Inbox {
  private static final int ENOUGH_OPEN = 200;
  // A batch is told of at its end, but not later than this after its last file.
  private static final Duration LONGEST_WAIT = Duration.ofMinutes(1);

  private final DropFolder folder;
  private final StandStill standStill;
  private final Receiving receiving;
  private final Leaving leaving;
  private final Database database;
  private final InstantSource clock;
  private final Runnable wakeMeasuring;
  // Files whose bytes are in the store and that have not left yet, as they were when read.
  private final Map<Seen, List<FileId>> stored = new LinkedHashMap<>();
  private volatile List<Trouble> troubles = List.of();
  private volatile boolean batchOpen = true;
  private volatile boolean tookFiles;
  private Instant lastTaken;

  /**
   * @param data its folders inbox, done and refused
   * @param wakeMeasuring called after files came into the store
   */
  public Inbox(
      Path data,
      Duration standStill,
      Database database,
      InstantSource clock,
      Runnable wakeMeasuring) {
    this(data, standStill, database, clock, wakeMeasuring, Receiving.LARGEST_BYTES);
  }

  Inbox(
      Path data,
      Duration standStill,
      Database database,
      InstantSource clock,
      Runnable wakeMeasuring,
      long largestBytes) {
    this.folder = new DropFolder(data.resolve("inbox"));
    this.standStill = new StandStill(standStill);
    this.receiving = new Receiving(database, largestBytes);
    this.leaving = new Leaving(folder, data.resolve("done"), data.resolve("refused"));
    this.database = database;
    this.clock = clock;
    this.wakeMeasuring = wakeMeasuring;
    this.lastTaken = clock.instant();
  }

  /** What can't be taken in as it lies there now; renewed by each sweep. */
  public List<Trouble> troubles() {
    return troubles;
  }

  /** Looks through the folder once. */
  public void sweep() {
    sweep(() -> false);
  }

  /**
   * Looks through the folder once.
   *
   * @param stopping asked after every commit; what isn't taken in then is seen again by the next
   */
  public void sweep(BooleanSupplier stopping) {
    List<Trouble> found = new ArrayList<>();
    tookFiles = false;
    try {
      Look look = folder.look();
      found.addAll(look.troubles());
      leave(look, found);
      List<Seen> waiting = new ArrayList<>(look.files());
      waiting.removeAll(stored.keySet());
      List<Seen> still = standStill.of(waiting, clock.instant());
      List<Stored> taken = receiving.store(ripe(waiting, still), found, stopping);
      taken.forEach(s -> stored.put(s.seen(), s.ids()));
      tookFiles = !taken.isEmpty();
      if (!taken.isEmpty()) {
        batchOpen = true;
        lastTaken = clock.instant();
        wakeMeasuring.run();
      } else if (batchOpen && isQuiet(waiting, still)) {
        closeBatch();
        wakeMeasuring.run();
      }
    } catch (IOException e) {
      found.add(new Trouble("inbox", DropWords.unreadable("The inbox", e.toString())));
      throw new UncheckedIOException(e);
    } catch (StoreUnavailable e) {
      found.add(new Trouble("inbox", String.valueOf(e.getMessage())));
      throw e;
    } finally {
      troubles = List.copyOf(found);
    }
  }

  /**
   * How long until another look is worth while: until the next file may have stood still, and no
   * longer at all after files were taken, since it is the look after them that ends their batch.
   * Empty where only what comes in could be seen.
   */
  public Optional<Duration> untilNextLook(Instant now) {
    if (tookFiles) return Optional.of(Duration.ZERO);
    return standStill.next().map(at -> Duration.between(now, at));
  }

  /** A file came in by another way than the folder: its batch ends here as well. */
  public void cameOtherwise() {
    batchOpen = true;
  }

  private void closeBatch() {
    // First: what comes while the batch is closed must not be overlooked.
    batchOpen = false;
    try {
      database.change(Batches::close);
    } catch (RuntimeException e) {
      batchOpen = true;
      throw e;
    }
  }

  // A field sheet speaks for the tracks beside it: they are taken in together with it, it first.
  private static List<Seen> ripe(List<Seen> waiting, List<Seen> still) {
    Set<Path> unready = new HashSet<>();
    for (Seen s : waiting) if (SheetsFirst.isSheet(s) && !still.contains(s)) unready.add(parent(s));
    return SheetsFirst.of(
        still.stream()
            .filter(s -> SheetsFirst.isSheet(s) || !unready.contains(parent(s)))
            .toList());
  }

  // What stands still and can't be taken holds nobody up, nor does a file that grows for ever.
  private boolean isQuiet(List<Seen> waiting, List<Seen> still) {
    return still.size() == waiting.size() || clock.instant().isAfter(lastTaken.plus(LONGEST_WAIT));
  }

  private static Path parent(Seen seen) {
    return Optional.ofNullable(seen.file().getParent()).orElse(seen.file());
  }

  private void leave(Look look, List<Trouble> found) {
    // A file that was taken away or written to again by the tester is no longer the stored one.
    stored.keySet().retainAll(new HashSet<>(look.files()));
    if (stored.isEmpty()) return;
    Map<Seen, State> settled = new HashMap<>();
    database.read(
        tx -> {
          int open = 0;
          for (Map.Entry<Seen, List<FileId>> e : stored.entrySet()) {
            Optional<State> state = fate(tx, e.getValue());
            if (state.isEmpty()) open++;
            else settled.put(e.getKey(), state.get());
            // They are measured in this order: behind many open ones none is settled.
            if (open == ENOUGH_OPEN) break;
          }
          return open;
        });
    List<FileId> gone = new ArrayList<>();
    settled.forEach(
        (seen, state) -> {
          if (!leaving.move(seen, state, found)) return;
          Optional.ofNullable(stored.remove(seen)).ifPresent(gone::addAll);
        });
    if (!gone.isEmpty()) database.change(tx -> ReceivedFiles.leftInbox(tx, gone));
  }

  /** What became of a file; of a zip what became of its files: refused where all of them are. */
  private static Optional<State> fate(Tx tx, List<FileId> ids) {
    State fate = State.REFUSED;
    for (FileId id : ids) {
      Optional<State> state = ReceivedFiles.find(tx, id).map(Received::state);
      if (state.isEmpty() || state.get() == State.RECEIVED) return Optional.empty();
      if (state.get() != State.REFUSED) fate = state.get();
    }
    return Optional.of(fate);
  }
}
