package milewarden.app;

import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import milewarden.app.config.Config;
import milewarden.schedule.Clockwork;
import milewarden.store.Database;
import milewarden.store.FolderLock;
import milewarden.store.Stations;
import milewarden.store.Tx;
import milewarden.store.file.Batches;
import milewarden.store.file.FileQueue;
import milewarden.store.judged.Marks;
import milewarden.store.told.Sending;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Opens the store for this data folder's one server: what its last one had begun is free again
 * before any other work.
 */
final class StoreOpening {
  private static final Logger LOG = LoggerFactory.getLogger(StoreOpening.class);
  // A station says this often that it is alive...
  private static final Duration BEAT = Duration.ofSeconds(5);
  // ...and is taken for dead after this: six beats, so that a long pause of its machine or a long
  // wait for the store is none. Common practice, no source.
  private static final Duration SILENCE = Duration.ofSeconds(30);

  private StoreOpening() {}

  /**
   * The store, on record as a station where several share it.
   *
   * @param parts is given what must close after everything that works with the store
   * @throws milewarden.store.StoreUnavailable as {@link Database#open} does
   */
  static Database open(Config config, InstantSource clock, Parts parts) {
    parts.keep(FolderLock.take(config.data()));
    Database database = parts.keep(Database.open(config.store(), clock));
    if (config.store().url().isEmpty()) database.change(StoreOpening::releaseClaims);
    else station(database, config.data(), clock, parts);
    return database;
  }

  private static void station(Database database, Path data, InstantSource clock, Parts parts) {
    String place = Database.machine() + ":" + data.toAbsolutePath().normalize();
    beat(database, place);
    parts.keep(() -> database.change(Stations::leave));
    Clockwork alive = parts.keep(new Clockwork(clock));
    alive.every("station", BEAT, () -> beat(database, place));
    alive.start();
  }

  private static void beat(Database database, String place) {
    database
        .write(tx -> Stations.beat(tx, place, SILENCE))
        .forEach(gone -> LOG.warn("station {} is silent; what it had begun is taken over", gone));
  }

  // The lock of the folder says that no other process works on these rows.
  private static void releaseClaims(Tx tx) {
    FileQueue.releaseClaims(tx);
    Marks.releaseClaims(tx);
    Sending.releaseClaims(tx);
    Batches.adopt(tx);
  }
}
