package milewarden.app;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.function.BooleanSupplier;
import milewarden.app.Mischief.What;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.Batches;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.judged.DueItems;
import milewarden.store.told.Outbox;

/**
 * A batch of files dropped in every way that people have, on a server that is killed at every
 * boundary between its stages, and killed and stopped at random moments, while the world fails
 * around it and no mail server answers; then all is well again, and {@link Losses} says what was
 * lost or doubled.
 */
public final class Faults {
  // Far longer than any stage takes here; a boundary that isn't reached by then has moved.
  private static final int BOUNDARY_S = 90;

  private final long seed;
  private final Random random;
  private final Household house;
  private final int port;
  private final List<Optional<Boundary>> endings = new ArrayList<>();
  private final List<String> groups = new ArrayList<>();
  private final List<Integer> firsts = new ArrayList<>();
  private final Map<String, byte[]> dropped = new TreeMap<>();
  private final List<MimeMessage> arrived = new ArrayList<>();
  private final Set<Boundary> reached = EnumSet.noneOf(Boundary.class);
  private int kills;
  private int stops;
  private int refusedStarts;
  private double longestStopS;

  private Faults(long seed, int files, int ends, Path folder) throws IOException {
    this.seed = seed;
    this.random = new Random(seed);
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
        mail: {host: 127.0.0.1, port: %d, security: none, to: [one@tests.example, two@tests.example], first_retry: 1 s, longest_retry: 4 s}
        """
            .formatted(port));
    for (int i = 0; i < ends; i++) endings.add(Optional.empty());
    for (Boundary b : Boundary.values()) if (!b.needsMail()) endings.add(Optional.of(b));
    Collections.shuffle(endings, random);
    for (Boundary b : Boundary.values()) if (b.needsMail()) endings.add(Optional.of(b));
    // Half of them at once, the others while it is killed: each ending has something to do.
    for (int i = 0; i <= endings.size(); i++) {
      if (i < endings.size()) groups.add("group " + i);
      firsts.add(i == 0 ? 0 : files / 2 + (files - files / 2) * (i - 1) / (endings.size() - 1));
    }
  }

  /**
   * What happened, and what was lost by it.
   *
   * @param boundaries those at which it was killed
   * @param messages how many arrived
   * @param twice how many of them had arrived before
   * @param losses empty where nothing was
   */
  public record Report(
      long seed,
      int files,
      Set<Boundary> boundaries,
      int kills,
      int stops,
      int refusedStarts,
      double longestStopS,
      String mischief,
      int messages,
      long twice,
      List<String> losses) {
    /** Boundaries at which it should have been killed, and wasn't. */
    public Set<String> missed() {
      Set<String> missed = new java.util.TreeSet<>();
      for (Boundary b : Boundary.values()) if (!boundaries.contains(b)) missed.add(b.name());
      return missed;
    }
  }

  /**
   * @param ends how often the server is killed or stopped at a random moment; at each boundary it
   *     is killed once besides
   * @param fullDisk true where the folder is a small file system made for this
   */
  public static Report run(long seed, int files, int ends, Path folder, boolean fullDisk)
      throws Exception {
    return new Faults(seed, files, ends, folder).run(fullDisk);
  }

  private Report run(boolean fullDisk) throws Exception {
    List<What> kinds = new ArrayList<>(List.of(What.LOCKED, What.BLOCKED));
    if (fullDisk) kinds.add(What.FULL);
    Mischief mischief = new Mischief(house.data, kinds, groups, seed + 1);
    CompletableFuture<Void> mischievous = CompletableFuture.runAsync(mischief);
    try {
      for (int i = 0; i < endings.size(); i++) {
        int group = i;
        CompletableFuture<Void> dropping = CompletableFuture.runAsync(() -> drop(group));
        end(endings.get(i));
        dropping.join();
      }
    } finally {
      mischief.end();
    }
    mischievous.join();

    Child child = Child.start(house, "-Xmx256m");
    if (!child.serves()) throw new AssertionError("it doesn't start:\n" + child.said());
    try (Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
      waitFor("every file was taken in", database, child, () -> isTaken(database));
      GreenMail server = mailServer();
      try {
        waitFor("every message went out", database, child, () -> isTold(database));
      } finally {
        collect(server);
      }
      longestStopS = Math.max(longestStopS, child.stopS());
      List<String> losses = Losses.of(house, dropped, database, arrived);
      return new Report(
          seed,
          dropped.size(),
          reached,
          kills,
          stops,
          refusedStarts,
          longestStopS,
          mischief.done().toString(),
          arrived.size(),
          arrived.size() - Losses.ids(arrived).size(),
          losses);
    } finally {
      child.kill();
    }
  }

  private GreenMail mailServer() {
    GreenMail server = new GreenMail(new ServerSetup(port, "127.0.0.1", "smtp"));
    server.start();
    return server;
  }

  private void collect(GreenMail server) {
    arrived.addAll(List.of(server.getReceivedMessages()));
    server.stop();
  }

  private void end(Optional<Boundary> where) throws Exception {
    if (where.isEmpty()) endSomewhere();
    else if (where.get().needsMail()) {
      GreenMail server = mailServer();
      try {
        endAt(where.get());
      } finally {
        collect(server);
      }
    } else endAt(where.get());
  }

  private void endAt(Boundary where) throws Exception {
    // What happens once for a batch happens too seldom to wait for its third time.
    int nth = where.ordinal() < Boundary.JUDGED.ordinal() ? 1 + random.nextInt(3) : 1;
    while (true) {
      Ambush ambush = Ambush.at(where, nth);
      Child child = Child.start(house, ambush::await, "-Xmx256m", ambush.option());
      if (!child.serves() && !child.isKilled()) {
        refused(child);
        continue;
      }
      if (ambush.isSprungWithin(BOUNDARY_S)) {
        reached.add(where);
        kills++;
      }
      child.kill();
      return;
    }
  }

  private void refused(Child child) {
    // A locked or full store is said at the start; whoever watches over it starts it again.
    refusedStarts++;
    if (!child.said().contains("milewarden: serve: "))
      throw new AssertionError("no sentence, but:\n" + child.said());
  }

  private void endSomewhere() throws Exception {
    Child child = Child.start(house, "-Xmx256m");
    if (!child.serves()) {
      refused(child);
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

  private void drop(int group) {
    Random pauses = new Random(seed * 1000 + group);
    try {
      int from = firsts.get(group);
      int to = firsts.get(group + 1);
      sheet(group, from, to);
      for (int i = from; i < to; i++) {
        file(groups.get(group) + "/walk " + i + ".gpx", i, pauses);
        Thread.sleep(pauses.nextInt(20));
      }
    } catch (IOException | InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Of a unit of its own, so that each group gives a cause to tell of. */
  private void sheet(int group, int from, int to) throws IOException, InterruptedException {
    StringBuilder rows = new StringBuilder();
    for (int i = from; i < to; i++) {
      boolean before = i < (from + to) / 2;
      String walk = "walk " + i + ".gpx";
      String row =
          Household.row(
              "S" + i, Household.day(i), walk, before ? "1.0" : "2.0", before ? "0.401" : "0.412");
      rows.append(row.replace(",K1,", ",K" + group + ","));
    }
    whole(groups.get(group) + "/session.csv", Household.sheet(rows.toString()));
  }

  private void file(String path, int i, Random pauses) throws IOException, InterruptedException {
    byte[] bytes = Household.track(Household.day(i), seed * 10_000 + i);
    int way = pauses.nextInt(10);
    if (way < 6) whole(path, bytes);
    else if (way < 8) slowly(path, bytes, pauses);
    else {
      // Another version of it lay there before; it may have been taken, or not.
      whole(path, Household.track(Household.day(i), seed * 20_000 + i));
      Thread.sleep(pauses.nextInt(1200));
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
  private void slowly(String path, byte[] bytes, Random pauses)
      throws IOException, InterruptedException {
    Path file = house.data.resolve("inbox").resolve(path);
    try (var out = Files.newOutputStream(file)) {
      out.write(bytes, 0, bytes.length / 2);
      out.flush();
      Thread.sleep(pauses.nextInt(100));
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
