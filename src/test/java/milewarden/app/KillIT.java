package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Marks;
import milewarden.store.run.Runs;
import milewarden.store.told.Outbox;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Kills the program (SIGKILL) again and again, in the middle of taking files in and of judging, and
 * finds every file once, every run once, every message at least once under one Message-ID.
 */
final class KillIT {
  private static final int ROUNDS = 6;
  private static final int TRACKS_A_ROUND = 5;
  // About as long as a stage takes for a batch: the kill falls anywhere in it.
  private static final long LONGEST_DELAY_NANOS = Duration.ofMillis(150).toNanos();

  @TempDir Path folder;
  private Household house;
  private Process program;
  private final Map<String, byte[]> dropped = new TreeMap<>();
  private int walks;

  @AfterEach
  void stop() {
    if (program != null) program.destroyForcibly();
  }

  @ParameterizedTest
  @ValueSource(longs = 11)
  void aKilledProgramLosesNothingAndRepeatsNothing(long seed) throws Exception {
    Random random = new Random(seed);
    house = new Household(folder);
    for (int round = 0; round < ROUNDS; round++) {
      dropSome(round);
      start();
      try (Database database = look()) {
        boolean duringIntake = random.nextBoolean();
        int before = received(database);
        int goal = before + 1 + random.nextInt(TRACKS_A_ROUND);
        long judged = judgements(database);
        waitFor(
            "the moment of round " + round + ", seed " + seed,
            database,
            duringIntake
                ? () -> received(database) >= Math.min(goal, dropped.size())
                : () -> marks(database) > 0 || judgements(database) > judged || quiet(database));
        LockSupport.parkNanos((long) (random.nextDouble() * LONGEST_DELAY_NANOS));
      }
      program.destroyForcibly();
      assertThat(program.waitFor(1, TimeUnit.MINUTES)).isTrue();
    }
    start();
    try (Database database = look()) {
      waitFor("all is quiet after seed " + seed, database, () -> quiet(database));
      everyFileOnce(database);
      everyRunOnce(database);
      everyMessageUnderOneId(database);
      noDueItemTwice(database);
    }
    program.destroy();
    assertThat(program.waitFor(1, TimeUnit.MINUTES)).as("a stop that was asked for").isTrue();
  }

  private void dropSome(int round) throws IOException {
    StringBuilder rows = new StringBuilder();
    String at = "round " + round + "/";
    for (int i = 0; i < TRACKS_A_ROUND; i++) {
      Instant day = Household.day(walks);
      String file = "walk " + walks + ".gpx";
      String firmware = round < ROUNDS / 2 ? "1.0" : "2.0";
      rows.append(Household.row("S" + walks, day, file, firmware, round < 3 ? "0.401" : "0.412"));
      byte[] track = Household.track(day, walks);
      house.drop(at + file, track);
      dropped.put(at + file, track);
      walks++;
    }
    String sheet = "session.csv";
    house.dropSheet(at + sheet, rows.toString());
    dropped.put(
        at + sheet,
        java.nio.file.Files.readAllBytes(house.data.resolve("inbox").resolve(at + sheet)));
  }

  private void start() throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Djava.awt.headless=true",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty(
                    "surefire.test.class.path", System.getProperty("java.class.path")),
                Main.class.getName(),
                "serve",
                "--data",
                house.data.toString(),
                "--config",
                house.configFile.toString()));
    program =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.PIPE)
            .start();
    BufferedReader out =
        new BufferedReader(
            new java.io.InputStreamReader(program.getInputStream(), StandardCharsets.UTF_8));
    StringBuilder said = new StringBuilder();
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      said.append(line).append('\n');
      if (line.startsWith("Stop with")) {
        Thread drain = new Thread(() -> out.lines().forEach(l -> {}));
        drain.setDaemon(true);
        drain.start();
        return;
      }
    }
    throw new AssertionError("the program didn't start:\n" + said);
  }

  private Database look() {
    return Database.open(StoreSettings.in(house.data), InstantSource.system());
  }

  private void waitFor(String what, Database database, BooleanSupplier condition) {
    Await.until(
        what,
        () ->
            database.read(ReceivedFiles::counts)
                + ", marks "
                + marks(database)
                + ", inbox "
                + house.files("inbox"),
        condition);
  }

  private static int received(Database database) {
    return database.read(ReceivedFiles::counts).values().stream().mapToInt(n -> n).sum();
  }

  private static int marks(Database database) {
    return database.read(Marks::count);
  }

  private static long judgements(Database database) {
    return database.read(tx -> milewarden.store.judged.Judgements.all(tx)).values().stream()
        .mapToLong(j -> j.judgedAt().toEpochMilli())
        .max()
        .orElse(0);
  }

  private boolean quiet(Database database) {
    return house.files("inbox").isEmpty()
        && received(database) >= dropped.size()
        && database.read(Batches::isQuiet)
        && database.read(DueItems::untold).isEmpty()
        && database.read(tx -> Outbox.count(tx, Outbox.State.QUEUED)) == 0;
  }

  private void everyFileOnce(Database database) {
    List<Received> rows =
        database.read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 10_000));
    assertThat(rows)
        .extracting(Received::path)
        .containsExactlyInAnyOrderElementsOf(dropped.keySet());
    assertThat(rows).extracting(Received::state).containsOnly(State.MEASURED);
    for (Received row : rows) {
      byte[] bytes = database.read(tx -> Contents.bytes(tx, row.sha256())).orElseThrow();
      assertThat(bytes).as(row.path()).isEqualTo(dropped.get(row.path()));
    }
    assertThat(house.files("done")).containsExactlyInAnyOrderElementsOf(dropped.keySet());
    assertThat(house.files("refused")).isEmpty();
  }

  private void everyRunOnce(Database database) {
    List<Runs.Run> runs = database.read(tx -> Runs.page(tx, 10_000, 0));
    assertThat(runs).hasSize(walks);
    assertThat(runs).extracting(Runs.Run::sessionName).doesNotHaveDuplicates();
    assertThat(runs).extracting(Runs.Run::heldFor).containsOnly(Optional.empty());
  }

  private void everyMessageUnderOneId(Database database) throws Exception {
    List<Outbox.Message> rows = database.read(tx -> Outbox.page(tx, Optional.empty(), 10_000));
    assertThat(rows).isNotEmpty();
    assertThat(rows).extracting(Outbox.Message::state).containsOnly(Outbox.State.SENT);
    List<String> ids = new ArrayList<>();
    for (var message : house.messages()) ids.add(message.getMessageID().replaceAll("[<>]", ""));
    assertThat(ids)
        .containsExactlyInAnyOrderElementsOf(
            rows.stream().map(m -> m.messageId().replaceAll("[<>]", "")).toList());
  }

  private static void noDueItemTwice(Database database) {
    List<DueItems.Due> open = database.read(DueItems::open);
    assertThat(open).isNotEmpty();
    assertThat(open).extracting(d -> d.item().model() + d.item().key()).doesNotHaveDuplicates();
  }
}
