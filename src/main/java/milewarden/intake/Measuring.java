package milewarden.intake;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import milewarden.intake.sheet.Sidecars;
import milewarden.store.Database;
import milewarden.store.StoreUnavailable;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.Recomputations;
import milewarden.store.judged.Recomputations.Because;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The measuring stage: takes received files from the store, measures them outside of any
 * transaction and writes a batch of outcomes in one. A crash in between repeats the batch.
 */
public final class Measuring {
  private static final Logger LOG = LoggerFactory.getLogger(Measuring.class);
  // One commit to disk costs about as much as measuring a recording: many files share it.
  private static final int BATCH = 32;
  // Of the recordings that are measured side by side; a larger one comes alone.
  private static final long MOST_BYTES = 16L << 20;
  // Our own bound: a field sheet of so much has some hundred thousand rows.
  private static final long LARGEST_SHEET_BYTES = 16L << 20;
  // Far longer than a batch takes; a node that died holds its files no longer than that.
  private static final Duration LEASE = Duration.ofMinutes(5);

  private final Database database;
  private final InboxSettings settings;
  private final ZoneId zone;
  private final Runnable wakeReview;
  private final RunKeeping keeping;
  private final SheetTaking sheets;
  private final Remeasuring remeasuring;
  private @Nullable Known lastKnown;
  // Claimed, and not worked off because the store failed: they are taken first next time.
  private List<Received> held = List.of();

  public Measuring(Database database, InboxSettings settings, ZoneId zone, Runnable wakeReview) {
    this.database = database;
    this.settings = settings;
    this.zone = zone;
    this.wakeReview = wakeReview;
    this.keeping = new RunKeeping(settings, zone);
    RowRuns rowRuns = new RowRuns(settings, zone, keeping);
    this.sheets = new SheetTaking(rowRuns);
    this.remeasuring = new Remeasuring(rowRuns);
  }

  /** Works until nothing is left to measure. */
  public void work() {
    workOff(() -> false);
  }

  /**
   * As {@link #work}, with a line in the log of what became of the files.
   *
   * @param stopping asked after every batch; the others are left for the next start
   */
  public void workAndLog(BooleanSupplier stopping) {
    Instant start = database.read(Tx::now);
    Map<State, Integer> fates = workOff(stopping);
    if (fates.isEmpty()) return;
    Duration took = Duration.between(start, database.read(Tx::now));
    LOG.info(IntakeWords.workedOff(fates, took));
  }

  private Map<State, Integer> workOff(BooleanSupplier stopping) {
    Map<State, Integer> fates = new EnumMap<>(State.class);
    rowsAnew();
    while (!stopping.getAsBoolean()) {
      if (held.isEmpty()) held = database.write(tx -> ReceivedFiles.claim(tx, BATCH, LEASE));
      if (held.isEmpty()) return fates;
      List<Received> tracks = new ArrayList<>();
      for (Received file : held) {
        if (file.kind() != Kind.TRACK) sheet(file);
        else tracks.add(file);
      }
      tracks(tracks);
      for (Received file : held)
        database
            .read(tx -> ReceivedFiles.find(tx, file.id()))
            .ifPresent(f -> fates.merge(f.state(), 1, Integer::sum));
      held = List.of();
      wakeReview.run();
    }
    return fates;
  }

  /**
   * Queues every run that this engine hasn't measured on the course's version in force.
   *
   * @return how many were queued
   */
  public int remeasure() {
    return database.write(tx -> Remeasuring.queue(tx, Because.ENGINE, ""));
  }

  private void rowsAnew() {
    boolean any = false;
    while (database.read(tx -> !Recomputations.withoutFile(tx, 1).isEmpty())) {
      Known known = known();
      any |= database.write(tx -> remeasuring.rows(tx, known));
    }
    if (any) wakeReview.run();
  }

  private void sheet(Received file) {
    try {
      if (isTooLarge(file, LARGEST_SHEET_BYTES)) return;
      database.change(
          tx -> {
            if (!ReceivedFiles.isHeld(tx, file.id())) return;
            if (file.kind() == Kind.SIDECAR) Sidecars.take(tx, file);
            else sheets.take(tx, file, Known.load(tx, Optional.ofNullable(lastKnown)));
          });
    } catch (StoreUnavailable e) {
      throw e;
    } catch (RuntimeException e) {
      stumbled(file, e);
    }
  }

  private void tracks(List<Received> files) {
    if (files.isEmpty()) return;
    Known known = known();
    List<Recording> together = new ArrayList<>();
    long weight = 0;
    for (Received file : files) {
      Optional<Recording> loaded = load(file);
      if (loaded.isEmpty()) continue;
      weight += loaded.get().weight();
      if (weight > MOST_BYTES) {
        measure(known, together);
        together.clear();
        weight = loaded.get().weight();
      }
      together.add(loaded.get());
    }
    measure(known, together);
  }

  private Optional<Recording> load(Received file) {
    try {
      if (isTooLarge(file, Long.MAX_VALUE)) return Optional.empty();
      return Optional.of(database.read(tx -> Recording.load(tx, database, file)));
    } catch (StoreUnavailable e) {
      throw e;
    } catch (RuntimeException e) {
      // Its stored bytes are damaged, say: the others go on.
      stumbled(file, e);
      return Optional.empty();
    }
  }

  /** Refuses what is larger than such a file can be. */
  private boolean isTooLarge(Received file, long most) {
    Optional<Long> size = database.read(tx -> Contents.sizeBytes(tx, file.sha256()));
    if (size.isPresent() && size.get() <= most) return false;
    Reason why = size.isEmpty() ? IntakeWords.tooLarge() : IntakeWords.tooLargeASheet(most);
    database.change(
        tx -> {
          if (ReceivedFiles.isHeld(tx, file.id())) ReceivedFiles.refused(tx, file.id(), why);
        });
    return true;
  }

  private void measure(Known known, List<Recording> recordings) {
    if (recordings.isEmpty()) return;
    FateFinder finder = new FateFinder(known, settings, zone);
    List<Fate> fates = new ArrayList<>(recordings.parallelStream().map(finder::of).toList());
    // What had too little memory beside the others may have enough alone.
    if (fates.size() > 1)
      for (int i = 0; i < fates.size(); i++)
        if (fates.get(i).lackedMemory()) fates.set(i, finder.of(recordings.get(i)));
    try {
      database.change(tx -> keep(tx, known, recordings, fates));
    } catch (StoreUnavailable e) {
      throw e;
    } catch (RuntimeException e) {
      // One of them is our mistake: each on its own, so that the others go on.
      for (int i = 0; i < fates.size(); i++) alone(recordings.get(i), fates.get(i));
    }
  }

  private void keep(Tx tx, Known known, List<Recording> recordings, List<Fate> fates) {
    // A course that came in meanwhile has not seen these files waiting for it.
    boolean stale = known.isStale(tx);
    for (int i = 0; i < fates.size(); i++) {
      // Another station took it over, or a tag was given meanwhile: what we found is out of date.
      if (!ReceivedFiles.isHeld(tx, recordings.get(i).file().id())) continue;
      if (stale) ReceivedFiles.again(tx, recordings.get(i).file().id());
      else keeping.keep(tx, recordings.get(i), fates.get(i));
    }
  }

  private void alone(Recording recording, Fate fate) {
    try {
      database.change(
          tx -> {
            if (ReceivedFiles.isHeld(tx, recording.file().id())) keeping.keep(tx, recording, fate);
          });
    } catch (StoreUnavailable e) {
      throw e;
    } catch (RuntimeException e) {
      stumbled(recording.file(), e);
    }
  }

  private void stumbled(Received file, RuntimeException why) {
    LOG.error("{} ({}) can't be kept", file.path(), file.sha256(), why);
    database.change(
        tx -> {
          if (ReceivedFiles.isHeld(tx, file.id()))
            ReceivedFiles.refused(tx, file.id(), IntakeWords.stumbled(why));
        });
  }

  /**
   * After a version of a course came into force, in the same transaction: its runs are queued, so
   * that no model is judged without them, and what waits for a course is tried again.
   */
  static void coursesChanged(Tx tx, String slug) {
    Remeasuring.queue(tx, Because.COURSE, slug);
    for (String code : List.of("no-course", "no-pass"))
      ReceivedFiles.again(tx, State.REFUSED, code);
    for (String code : List.of("unknown-course", "ambiguous-course", "direction-unsure"))
      ReceivedFiles.again(tx, State.WAITING, code);
  }

  private synchronized Known known() {
    Known known = database.read(tx -> Known.load(tx, Optional.ofNullable(lastKnown)));
    lastKnown = known;
    return known;
  }
}
