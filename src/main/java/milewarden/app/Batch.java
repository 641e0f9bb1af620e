package milewarden.app;

import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.function.Consumer;
import milewarden.accuracy.Engine;
import milewarden.app.config.Config;
import milewarden.intake.CourseFolder;
import milewarden.intake.Measuring;
import milewarden.intake.drop.FolderIntake;
import milewarden.review.Review;
import milewarden.store.Database;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Recomputations;

/** A data folder at work once, without a server. */
final class Batch implements AutoCloseable {
  private final Config config;
  private final InstantSource clock;
  private final Parts parts = new Parts();
  private final Database database;
  private final Telling telling;

  /**
   * @throws milewarden.store.StoreUnavailable as {@link Database#open} does
   */
  Batch(Config config, InstantSource clock) {
    this.config = config;
    this.clock = clock;
    try {
      database = StoreOpening.open(config, clock, parts);
    } catch (RuntimeException | Error e) {
      parts.close();
      throw e;
    }
    telling = new Telling(config, database);
  }

  /** Takes a folder in, judges and tells. */
  FolderIntake.Taken takeIn(Path folder, Consumer<Duration> pause) {
    // The courses' folder as it lies there now: nobody waits for it to stand still.
    Measuring measuring = new Measuring(database, config.inbox(), config.zone(), () -> {});
    new CourseFolder(config.courses(), Duration.ZERO, database, clock, measuring::remeasure)
        .sweep();
    FolderIntake.Taken taken =
        new FolderIntake(database, measuring::work, config.inbox().standStill(), pause)
            .take(folder);
    telling.review(() -> {}).run();
    telling.deliver();
    return taken;
  }

  /** Measures anew what this engine hasn't, and judges. */
  Recomputed recompute() {
    Measuring measuring = new Measuring(database, config.inbox(), config.zone(), () -> {});
    int runs = measuring.remeasure();
    boolean policy =
        database.write(tx -> Recomputations.policy(tx, config.policy(), Engine.VERSION));
    int before = database.read(tx -> DueItems.open(tx)).size();
    measuring.work();
    Review review = telling.review(() -> {});
    review.markOutdated();
    review.run();
    telling.deliver();
    return database.read(
        tx -> new Recomputed(runs, policy, Recomputations.pending(tx), before, DueItems.open(tx)));
  }

  /**
   * What came of measuring anew.
   *
   * @param runs that were queued
   * @param policy true where another policy was found, too
   * @param pending runs that still wait
   * @param openBefore due items that were open before
   */
  record Recomputed(
      int runs, boolean policy, int pending, int openBefore, List<DueItems.Due> open) {
    Recomputed {
      open = List.copyOf(open);
    }
  }

  @Override
  public void close() {
    parts.close();
  }
}
