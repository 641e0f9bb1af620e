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
import milewarden.intake.drop.OneByOne;
import milewarden.intake.sheet.Sidecars;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.StoreUnavailable;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.file.Standings;
import milewarden.store.file.Standings.Standing;
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
    Map<Standing, Integer> fates = workOff(stopping);
    if (fates.isEmpty()) return;
    Duration took = Duration.between(start, database.read(Tx::now));
    LOG.info(IntakeWords.workedOff(fates, took));
  }

  private Map<Standing, Integer> workOff(BooleanSupplier stopping) {
    Map<Standing, Integer> fates = new EnumMap<>(Standing.class);
    rowsAnew();
    while (!stopping.getAsBoolean()) {
      if (held.isEmpty()) held = database.write(tx -> FileQueue.claim(tx, BATCH, LEASE));
      if (held.isEmpty()) {
        database.lately().clear();
        return fates;
      }
      List<Received> tracks = new ArrayList<>();
      for (Received file : held) {
        if (file.kind() != Kind.TRACK) sheet(file);
        else tracks.add(file);
      }
      tracks(tracks);
      List<FileId> ids = held.stream().map(Received::id).toList();
      database
          .read(tx -> Standings.counts(tx, ids))
          .forEach((standing, files) -> fates.merge(standing, files, Integer::sum));
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
      Known known = known();
      database.change(
          tx -> {
            if (!FileQueue.isHeld(tx, file.id())) return;
            if (file.kind() == Kind.SIDECAR) Sidecars.take(tx, file);
            else sheets.take(tx, file, Known.load(tx, Optional.of(known)));
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
    for (int from = 0; from < files.size(); ) {
      List<Recording> together = new ArrayList<>();
      from += load(files.subList(from, files.size()), together);
      measure(known, together);
    }
  }

  /**
   * Loads as many as may be measured side by side.
   *
   * @return how many files need no more to be looked at
   */
  private int load(List<Received> files, List<Recording> together) {
    List<Received> notKept = new ArrayList<>();
    int looked;
    try {
      looked = database.read(tx -> load(tx, files, together, notKept));
    } catch (StoreUnavailable e) {
      throw e;
    } catch (RuntimeException e) {
      // The stored bytes of one of them are damaged, say: the others go on.
      together.clear();
      if (files.size() > 1) return load(files.subList(0, 1), together);
      stumbled(files.get(0), e);
      return 1;
    }
    notKept.forEach(file -> refuse(file, IntakeWords.tooLarge()));
    return looked;
  }

  private int load(Tx tx, List<Received> files, List<Recording> together, List<Received> notKept) {
    Said said = Said.of(tx, files);
    long weight = 0;
    for (int i = 0; i < files.size(); i++) {
      Optional<Recording> loaded = Recording.load(tx, database, files.get(i), said);
      if (loaded.isEmpty()) {
        notKept.add(files.get(i));
        continue;
      }
      weight += loaded.get().weight();
      if (weight > MOST_BYTES && !together.isEmpty()) return i;
      together.add(loaded.get());
    }
    return files.size();
  }

  /** Refuses what is larger than such a file can be. */
  private boolean isTooLarge(Received file, long most) {
    Optional<Long> size = database.read(tx -> Contents.sizeBytes(tx, file.sha256()));
    if (size.isPresent() && size.get() <= most) return false;
    Reason why = size.isEmpty() ? IntakeWords.tooLarge() : IntakeWords.tooLargeASheet(most);
    refuse(file, why);
    return true;
  }

  private void refuse(Received file, Reason why) {
    database.change(
        tx -> {
          if (FileQueue.isHeld(tx, file.id())) FileQueue.refused(tx, file.id(), why);
        });
  }

  private void measure(Known known, List<Recording> recordings) {
    if (recordings.isEmpty()) return;
    FateFinder finder = new FateFinder(known, settings, zone);
    List<Found> fates = new ArrayList<>(OneByOne.map(recordings, r -> Found.of(finder.of(r))));
    // What had too little memory beside the others may have enough alone.
    if (fates.size() > 1)
      for (int i = 0; i < fates.size(); i++)
        if (fates.get(i).fate().lackedMemory())
          fates.set(i, Found.of(finder.of(recordings.get(i))));
    try {
      database.change(tx -> keep(tx, known, recordings, fates));
    } catch (StoreUnavailable e) {
      throw e;
    } catch (RuntimeException e) {
      // One of them is our mistake: each on its own, so that the others go on.
      for (int i = 0; i < fates.size(); i++) alone(recordings.get(i), fates.get(i));
    }
  }

  private void keep(Tx tx, Known known, List<Recording> recordings, List<Found> found) {
    Together together = Together.of(tx, recordings.stream().map(Recording::file).toList());
    // A course that came in meanwhile has not seen these files waiting for it.
    boolean stale = known.isStale(tx);
    for (int i = 0; i < found.size(); i++) {
      FileId file = recordings.get(i).file().id();
      if (!stale) keeping.keep(tx, recordings.get(i), found.get(i), together);
      else if (together.held(file).isPresent()) FileQueue.again(tx, file);
    }
    together.write();
  }

  private void alone(Recording recording, Found found) {
    try {
      database.change(
          tx -> {
            Together together = Together.of(tx, List.of(recording.file()));
            keeping.keep(tx, recording, found, together);
            together.write();
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
          if (FileQueue.isHeld(tx, file.id()))
            FileQueue.refused(tx, file.id(), IntakeWords.stumbled(why));
        });
  }

  /**
   * After a version of a course came into force, in the same transaction: its runs are queued, so
   * that no model is judged without them, and what waits for a course is tried again.
   */
  static void coursesChanged(Tx tx, String slug) {
    Remeasuring.queue(tx, Because.COURSE, slug);
    Standings.tryAgainOffCourse(tx);
    for (String code :
        List.of("unknown-course", "ambiguous-course", "direction-unsure", FateFinder.UNREAD_COURSE))
      FileQueue.again(tx, State.WAITING, code);
  }

  private Known load() {
    return database.read(tx -> Known.load(tx, Optional.ofNullable(lastKnown)));
  }

  private synchronized Known known() {
    Known known = load();
    if (CourseMending.mend(database, known.unread())) known = load();
    lastKnown = known;
    return known;
  }
}
