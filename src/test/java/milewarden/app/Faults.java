package milewarden.app;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import java.io.IOException;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.function.BooleanSupplier;
import milewarden.app.Mischief.What;
import milewarden.store.file.Batches;
import milewarden.store.Database;
import milewarden.store.judged.DueItems;
import milewarden.store.told.Outbox;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.StoreSettings;

/**
 * A batch of files dropped in every way that people have, on a server that is killed and stopped at
 * random moments while the world fails around it and no mail server answers; then all is well
 * again, and {@link Losses} says what was lost or doubled.
 */
public final class Faults {
  private static final int GROUP = 20;

  private final long seed;
  private final Random random;
  private final Household house;
  private final int files;
  private final int port;
  private final List<String> groups = new ArrayList<>();
  private final Map<String, byte[]> dropped = new TreeMap<>();
  private int kills;
  private int stops;
  private int refusedStarts;
  private double longestStopS;

  private Faults(long seed, int files, Path folder) throws IOException {
    this.seed = seed;
    this.random = new Random(seed);
    this.files = files;
    this.house = new Household(folder);
    try (ServerSocket free = new ServerSocket(0)) {
      this.port = free.getLocalPort();
    }
    Files.writeString(
        house.configFile,
        """
        zone: UTC
        port: 0
        inbox: {poll: 50 ms, stand_still: 600 ms}
        mail: {host: 127.0.0.1, port: %d, security: none, to: [one@tests.example], first_retry: 1 s, longest_retry: 4 s}
        """
            .formatted(port));
    for (int i = 0; i * GROUP < files; i++) groups.add("group " + i);
  }

  /**
   * What happened, and what was lost by it.
   *
   * @param losses empty where nothing was
   */
  public record Report(
      long seed,
      int files,
      int kills,
      int stops,
      int refusedStarts,
      double longestStopS,
      String mischief,
      int messages,
      List<String> losses) {}

  /**
   * @param kills how often the server is killed or stopped
   * @param fullDisk true where the folder is a small file system made for this
   */
  public static Report run(long seed, int files, int kills, Path folder, boolean fullDisk)
      throws Exception {
    return new Faults(seed, files, folder).run(kills, fullDisk);
  }

  private Report run(int ends, boolean fullDisk) throws Exception {
    List<What> kinds = new ArrayList<>(List.of(What.LOCKED, What.BLOCKED));
    if (fullDisk) kinds.add(What.FULL);
    Mischief mischief = new Mischief(house.data, kinds, groups, seed + 1);
    CompletableFuture<Void> mischievous = CompletableFuture.runAsync(mischief);
    CompletableFuture<Void> dropping = CompletableFuture.runAsync(this::drop);
    try {
      for (int i = 0; i < ends; i++) endSomewhere();
      dropping.join();
    } finally {
      mischief.end();
    }
    mischievous.join();

    Child child = Child.start(house, "-Xmx256m");
    if (!child.serves()) throw new AssertionError("it doesn't start:\n" + child.said());
    GreenMail server = new GreenMail(new ServerSetup(port, "127.0.0.1", "smtp"));
    try (Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
      waitFor("every file was taken in", database, child, () -> isTaken(database));
      server.start();
      waitFor("every message went out", database, child, () -> isTold(database));
      longestStopS = Math.max(longestStopS, child.stopS());
      List<String> losses = Losses.of(house, dropped, database, server);
      return new Report(
          seed,
          dropped.size(),
          kills,
          stops,
          refusedStarts,
          longestStopS,
          mischief.done().toString(),
          server.getReceivedMessages().length,
          losses);
    } finally {
      child.kill();
      server.stop();
    }
  }

  private void endSomewhere() throws Exception {
    Child child = Child.start(house, "-Xmx256m");
    if (!child.serves()) {
      // A locked or full store is said at the start; whoever watches over it starts it again.
      refusedStarts++;
      if (!child.said().contains("milewarden: serve: "))
        throw new AssertionError("no sentence, but:\n" + child.said());
      return;
    }
    Thread.sleep(random.nextInt(4000));
    if (random.nextInt(5) == 0) {
      stops++;
      longestStopS = Math.max(longestStopS, child.stopS());
    } else {
      kills++;
      child.kill();
    }
  }

  private void drop() {
    try {
      for (int i = 0; i < files; i++) {
        String group = groups.get(i / GROUP);
        if (i % GROUP == 0) sheet(group, i);
        file(group + "/walk " + i + ".gpx", i);
        Thread.sleep(random.nextInt(20));
      }
    } catch (IOException | InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  private void sheet(String group, int first) throws IOException, InterruptedException {
    StringBuilder rows = new StringBuilder();
    for (int i = first; i < Math.min(first + GROUP, files); i++)
      rows.append(
          Household.row(
              "S" + i,
              Household.day(i),
              "walk " + i + ".gpx",
              i < files / 2 ? "1.0" : "2.0",
              i < files / 2 ? "0.401" : "0.412"));
    whole(group + "/session.csv", Household.sheet(rows.toString()));
  }

  private void file(String path, int i) throws IOException, InterruptedException {
    byte[] bytes = Household.track(Household.day(i), seed * 10_000 + i);
    int way = random.nextInt(10);
    if (way < 6) whole(path, bytes);
    else if (way < 8) slowly(path, bytes);
    else {
      // Another version of it lay there before; it may have been taken, or not.
      whole(path, Household.track(Household.day(i), seed * 20_000 + i));
      Thread.sleep(random.nextInt(1200));
      whole(path, bytes);
    }
  }

  /** Renamed into place, however often it takes on a full disk. */
  private void whole(String path, byte[] bytes) throws IOException, InterruptedException {
    Path beside = house.folder.resolve("arriving");
    Path file = house.data.resolve("inbox").resolve(path);
    for (int tries = 0; ; tries++) {
      try {
        Files.write(beside, bytes);
        Files.createDirectories(file.getParent());
        Files.move(beside, file, java.nio.file.StandardCopyOption.REPLACE_EXISTING);
        dropped.put(path, bytes);
        return;
      } catch (IOException e) {
        if (tries == 1000) throw e;
        Thread.sleep(20);
      }
    }
  }

  /** In two halves, as a slow copy writes it; the pause is far below the time to stand still. */
  private void slowly(String path, byte[] bytes) throws IOException, InterruptedException {
    Path file = house.data.resolve("inbox").resolve(path);
    try (var out = Files.newOutputStream(file)) {
      out.write(bytes, 0, bytes.length / 2);
      out.flush();
      Thread.sleep(random.nextInt(100));
      out.write(bytes, bytes.length / 2, bytes.length - bytes.length / 2);
      dropped.put(path, bytes);
    } catch (IOException e) {
      // The disk was full: who copies sees it fail, and copies again.
      whole(path, bytes);
    }
  }

  private void waitFor(String what, Database database, Child child, BooleanSupplier condition) {
    Await.until(
        what + ", seed " + seed,
        () ->
            database.read(ReceivedFiles::counts)
                + ", inbox "
                + house.files("inbox")
                + "\n"
                + child.said(),
        condition);
  }

  private boolean isTaken(Database database) {
    return house.files("inbox").isEmpty()
        && database.read(Batches::isQuiet)
        && database.read(DueItems::untold).isEmpty();
  }

  private static boolean isTold(Database database) {
    return database.read(tx -> Outbox.count(tx, Outbox.State.QUEUED)) == 0;
  }
}
