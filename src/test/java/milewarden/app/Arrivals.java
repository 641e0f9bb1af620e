package milewarden.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.locks.LockSupport;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.Marks;
import milewarden.store.run.Runs;

/**
 * Recordings that come in on a lab's store one after another while its pages are asked for, each
 * with its field sheet: another model of the lab each time, on its last release, after all that is
 * there.
 */
final class Arrivals implements AutoCloseable {
  private static final Instant AFTER_ALL = Instant.parse("2026-01-01T08:00:00Z");
  private static final Duration QUIET_WITHIN = Duration.ofMinutes(5);

  private final Household house;
  private final Database database;
  private final int models;
  private final int before;
  private final long everyNanos;
  private final Thread thread = new Thread(this::drop, "arrivals");
  private volatile boolean ending;
  private volatile int dropped;

  /**
   * @param models of the lab
   * @param aMinute recordings
   */
  Arrivals(Household house, int models, int aMinute) {
    this.house = house;
    this.models = models;
    this.everyNanos = Duration.ofMinutes(1).dividedBy(aMinute).toNanos();
    database = Database.open(StoreSettings.in(house.data), InstantSource.system());
    before = database.read(Runs::count);
    thread.setDaemon(true);
  }

  /** Returns when the first of them is in the store: from then on all stages are at work. */
  void start() throws InterruptedException {
    thread.start();
    while (measured() == 0) Thread.sleep(100);
  }

  /** So many came, were measured and judged, the last of them so long after the last drop. */
  record Came(int dropped, int measured, double lastS) {}

  /** No more come; returns when all that came are judged. */
  Came end() throws InterruptedException {
    ending = true;
    thread.join();
    long from = System.nanoTime();
    while (!isQuiet()) {
      if (System.nanoTime() - from > QUIET_WITHIN.toNanos())
        throw new AssertionError("of " + dropped + " came " + measured());
      Thread.sleep(100);
    }
    return new Came(dropped, measured(), (System.nanoTime() - from) / 1e9);
  }

  private int measured() {
    return database.read(Runs::count) - before;
  }

  private boolean isQuiet() {
    return measured() >= dropped
        && database.read(ReceivedFiles::counts).getOrDefault(State.RECEIVED, 0) == 0
        && database.read(Marks::count) == 0;
  }

  private void drop() {
    try {
      long start = System.nanoTime();
      for (int i = 0; !ending; i++) {
        // A minute and a number that none had before it, whoever filled this store how often.
        int n = before + i;
        Instant at = AFTER_ALL.plus(Duration.ofMinutes(n));
        String model = "M%02d".formatted(n * 7 % models);
        byte[] track = Household.trackOf(model, at, n);
        house.drop("arrived/" + n + "/" + n + ".gpx", track);
        house.dropSheet("arrived/" + n + "/session.csv", row(n, at, model));
        dropped = i + 1;
        long next = start + (i + 1) * everyNanos;
        while (!ending && System.nanoTime() < next)
          LockSupport.parkNanos(Math.min(100_000_000L, next - System.nanoTime()));
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String row(int n, Instant at, String model) {
    List<String> cells = new ArrayList<>(List.of("arrived-" + n));
    cells.addAll(List.of(at.toString().substring(0, 10), at.toString().substring(11, 16)));
    cells.addAll(List.of(n + ".gpx", model, "1.5", "pier", "hand", "walk"));
    cells.addAll(List.of("%.3f".formatted(0.4 * (1 + (n % 40 - 20) / 1000.0)), "km"));
    return String.join(",", cells) + "\n";
  }

  @Override
  public void close() {
    ending = true;
    database.close();
  }
}
