package milewarden.intake.drop;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import java.util.stream.Stream;
import milewarden.intake.InboxSettings;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.StoreUnavailable;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The rules of the drop folder: stand-still 2 s, bytes first, nothing deleted. */
final class InboxTest {
  @TempDir Path data;
  private Instant now = Instant.parse("2026-05-12T07:00:00Z");
  private Database database;
  private Inbox inbox;

  @BeforeEach
  void open() {
    database = Database.open(StoreSettings.in(data), () -> now);
    restart();
  }

  @AfterEach
  void close() {
    database.close();
  }

  private void restart() {
    inbox = new Inbox(data, InboxSettings.DEFAULTS.standStill(), database, () -> now, () -> {});
  }

  private void sweepAfter(Duration pause) {
    now = now.plus(pause);
    inbox.sweep();
  }

  /** Two sweeps further apart than the stand-still. */
  private void takeIn() {
    inbox.sweep();
    sweepAfter(Duration.ofSeconds(2));
  }

  private Path drop(String path, String text) throws IOException {
    Path file = data.resolve("inbox").resolve(path);
    Files.createDirectories(file.getParent());
    return Files.writeString(file, text);
  }

  private List<Received> rows() {
    List<Received> rows =
        new ArrayList<>(
            database.read(
                tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 100_000)));
    java.util.Collections.reverse(rows);
    return rows;
  }

  private void settleAll() {
    for (Received row : rows())
      if (row.state() == State.RECEIVED) database.change(tx -> FileQueue.measured(tx, row.id()));
  }

  private List<String> files(String folder) throws IOException {
    Path root = data.resolve(folder);
    if (Files.notExists(root)) return List.of();
    try (Stream<Path> all = Files.walk(root)) {
      return all.filter(Files::isRegularFile)
          .map(f -> root.relativize(f).toString())
          .sorted()
          .toList();
    }
  }

  private String stored(Received row) {
    byte[] bytes = database.read(tx -> Contents.bytes(tx, row.sha256())).orElseThrow();
    return new String(bytes, StandardCharsets.UTF_8);
  }

  @Test
  void itSaysHowLongTheFirstFileStillHasToStandStill() throws Exception {
    inbox.sweep();
    assertThat(inbox.untilNextLook(now)).isEmpty();
    drop("first.gpx", "track");
    inbox.sweep();
    drop("second.gpx", "track");
    sweepAfter(Duration.ofMillis(1500));
    assertThat(inbox.untilNextLook(now)).contains(Duration.ofMillis(500));
    sweepAfter(Duration.ofMillis(500));
    inbox.sweep();
    assertThat(inbox.untilNextLook(now)).contains(Duration.ofMillis(1500));
    sweepAfter(Duration.ofMillis(1500));
    inbox.sweep();
    assertThat(inbox.untilNextLook(now)).isEmpty();
  }

  @Test
  void itWantsToLookAgainAtOnceAfterFilesWereTakenAndThatLookEndsTheirBatch() throws Exception {
    drop("run.gpx", "track");
    takeIn();
    assertThat(inbox.untilNextLook(now)).contains(Duration.ZERO);
    assertThat(database.read(Batches::latest).orElseThrow().closedAt()).isEmpty();
    inbox.sweep();
    assertThat(inbox.untilNextLook(now)).isEmpty();
    assertThat(database.read(Batches::latest).orElseThrow().closedAt()).contains(now);
  }

  @Test
  void theLookAfterDoesNotEndTheBatchWhileAnotherFileStillHasToStandStill() throws Exception {
    drop("first.gpx", "track");
    inbox.sweep();
    drop("second.gpx", "track of another day");
    sweepAfter(Duration.ofSeconds(2));
    inbox.sweep();
    assertThat(inbox.untilNextLook(now)).contains(Duration.ofSeconds(2));
    assertThat(database.read(Batches::latest).orElseThrow().closedAt()).isEmpty();
  }

  @Test
  void aFileIsTakenWhenItHasStoodStillForTwoSecondsAndNotBefore() throws Exception {
    drop("run.gpx", "track");
    inbox.sweep();
    sweepAfter(Duration.ofMillis(1999));
    assertThat(rows()).isEmpty();
    sweepAfter(Duration.ofMillis(1));
    assertThat(rows()).extracting(Received::path).containsExactly("run.gpx");
    assertThat(stored(rows().get(0))).isEqualTo("track");
  }

  @Test
  void aFileThatStillGrowsIsNeverReadHalfCopied() throws Exception {
    Random random = new Random(7);
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < 50; i++) {
      text.append("more ").append(i).append('\n');
      drop("slow.gpx", text.toString());
      sweepAfter(Duration.ofMillis(500 + random.nextInt(1400)));
      assertThat(rows()).as("after part " + i).isEmpty();
    }
    takeIn();
    assertThat(stored(rows().get(0))).isEqualTo(text.toString());
  }

  @Test
  void aChangeOfTimeAloneBeginsTheWaitAnew() throws Exception {
    Path file = drop("run.gpx", "aaaa");
    inbox.sweep();
    now = now.plusSeconds(1);
    Files.setLastModifiedTime(
        file, java.nio.file.attribute.FileTime.from(Instant.parse("2020-01-01T00:00:00Z")));
    inbox.sweep();
    sweepAfter(Duration.ofMillis(1500));
    assertThat(rows()).isEmpty();
    sweepAfter(Duration.ofMillis(500));
    assertThat(rows()).hasSize(1);
  }

  @Test
  void aFileStaysInTheInboxUntilItsFateIsKnownAndLeavesByIt() throws Exception {
    drop("K1/1.0/good.gpx", "good");
    drop("bad.gpx", "bad");
    takeIn();
    assertThat(files("inbox")).containsExactly("K1/1.0/good.gpx", "bad.gpx");
    for (Received row : rows())
      database.change(
          tx -> {
            if (row.path().equals("bad.gpx"))
              FileQueue.refused(tx, row.id(), new Reason("not-a-track", "", "No track."));
            else FileQueue.measured(tx, row.id());
          });
    inbox.sweep();
    assertThat(files("inbox")).isEmpty();
    assertThat(files("done")).containsExactly("K1/1.0/good.gpx");
    assertThat(files("refused")).containsExactly("bad.gpx");
    assertThat(rows()).allMatch(Received::leftInbox);
  }

  @Test
  void aNameThatIsTakenGetsANumberAndNothingIsOverwritten() throws Exception {
    for (String text : List.of("one", "two", "three")) {
      drop("run.gpx", text);
      takeIn();
      settleAll();
      inbox.sweep();
    }
    assertThat(files("done")).containsExactly("run (2).gpx", "run (3).gpx", "run.gpx");
    assertThat(Files.readString(data.resolve("done/run.gpx"))).isEqualTo("one");
    assertThat(Files.readString(data.resolve("done/run (3).gpx"))).isEqualTo("three");
  }

  @Test
  void theSameBytesAreADuplicateWithTheFirstOneNamed() throws Exception {
    drop("a.gpx", "same");
    takeIn();
    drop("K2/b.gpx", "same");
    takeIn();
    assertThat(rows()).extracting(Received::state).containsExactly(State.RECEIVED, State.DUPLICATE);
    assertThat(rows().get(1).duplicateOf()).contains(rows().get(0).id());
    settleAll();
    inbox.sweep();
    assertThat(files("done")).containsExactly("K2/b.gpx", "a.gpx");
  }

  @Test
  void afterACrashBetweenStoringAndMovingAFileIsFoundOnceAndMoved() throws Exception {
    drop("run.gpx", "track");
    takeIn();
    restart();
    takeIn();
    assertThat(rows()).hasSize(1);
    settleAll();
    inbox.sweep();
    assertThat(files("done")).containsExactly("run.gpx");
    assertThat(rows()).singleElement().matches(Received::leftInbox);
  }

  @Test
  void aFileThatIsReplacedAfterItWasReadIsAnotherFile() throws Exception {
    drop("run.gpx", "first");
    takeIn();
    drop("run.gpx", "second, longer");
    settleAll();
    inbox.sweep();
    assertThat(files("done")).isEmpty();
    sweepAfter(Duration.ofSeconds(2));
    assertThat(rows()).extracting(this::stored).containsExactly("first", "second, longer");
  }

  @Test
  void oddNamesAreTakenAndShownSafely() throws Exception {
    drop("line\nbreak.gpx", "1");
    drop("right\u202eto left.gpx", "2");
    drop("..gpx", "3");
    drop("a b/…/ünï cödé 走.gpx", "4");
    drop("-rf", "5");
    takeIn();
    assertThat(rows())
        .extracting(Received::path)
        .containsExactlyInAnyOrder(
            "line_break.gpx", "right_to left.gpx", "..gpx", "a b/…/ünï cödé 走.gpx", "-rf");
    settleAll();
    inbox.sweep();
    assertThat(files("inbox")).isEmpty();
    assertThat(files("done")).hasSize(5).contains("line\nbreak.gpx");
  }

  @Test
  void linksAreNotFollowedAndSaid() throws Exception {
    Path outside = Files.writeString(data.resolve("secret.txt"), "secret");
    Files.createDirectories(data.resolve("inbox"));
    Files.createSymbolicLink(data.resolve("inbox/link.gpx"), outside);
    Files.createSymbolicLink(data.resolve("inbox/round"), data);
    takeIn();
    assertThat(rows()).isEmpty();
    assertThat(inbox.troubles())
        .extracting(Trouble::path)
        .containsExactlyInAnyOrder("link.gpx", "round");
    assertThat(inbox.troubles().get(0).sentence()).contains("Copy the file itself");
  }

  @Test
  void anUnreadableFileIsSaidAndTakenOnceItCanBeRead() throws Exception {
    Path file = drop("locked.gpx", "track");
    drop("free.gpx", "other");
    Files.setPosixFilePermissions(
        file, java.nio.file.attribute.PosixFilePermissions.fromString("---------"));
    assumeTrue(!Files.isReadable(file), "the superuser reads everything");
    takeIn();
    assertThat(rows()).extracting(Received::path).containsExactly("free.gpx");
    assertThat(inbox.troubles()).singleElement().matches(t -> t.path().equals("locked.gpx"));
    Files.setPosixFilePermissions(
        file, java.nio.file.attribute.PosixFilePermissions.fromString("rw-------"));
    takeIn();
    assertThat(rows()).hasSize(2);
    assertThat(inbox.troubles()).isEmpty();
  }

  @Test
  void aFileThatVanishesIsForgotten() throws Exception {
    Path file = drop("run.gpx", "track");
    inbox.sweep();
    Files.delete(file);
    sweepAfter(Duration.ofSeconds(2));
    assertThat(rows()).isEmpty();
    assertThat(inbox.troubles()).isEmpty();
  }

  @Test
  void theFieldSheetComesBeforeTheTracksBesideIt() throws Exception {
    drop("day/a.gpx", "a");
    inbox.sweep();
    now = now.plusSeconds(1);
    drop("day/session.csv", "unit\n");
    drop("other/b.gpx", "b");
    inbox.sweep();
    sweepAfter(Duration.ofSeconds(1));
    // Its sheet hasn't stood still yet.
    assertThat(rows()).isEmpty();
    sweepAfter(Duration.ofSeconds(1));
    assertThat(rows())
        .extracting(Received::path)
        .containsExactly("day/session.csv", "day/a.gpx", "other/b.gpx");
    assertThat(rows().get(0).kind()).isEqualTo(Kind.SHEET);
  }

  @Test
  void aSheetThatGoesBackToWhatItSaidIsNoDuplicate() throws Exception {
    for (String text : List.of("one", "two", "one", "one")) {
      drop("day/session.csv", text);
      takeIn();
      settleAll();
      inbox.sweep();
    }
    assertThat(rows())
        .extracting(Received::state)
        .containsExactly(State.MEASURED, State.MEASURED, State.MEASURED, State.DUPLICATE);
  }

  @Test
  void aThousandFilesAtOnceAreEachFoundOnce() throws Exception {
    TreeMap<String, String> dropped = new TreeMap<>();
    for (int i = 0; i < 1000; i++) {
      String path = "f" + i % 17 + "/" + i + ".gpx";
      drop(path, "track " + i);
      dropped.put(path, "track " + i);
    }
    takeIn();
    TreeMap<String, String> found = new TreeMap<>();
    for (Received row : rows()) found.put(row.path(), stored(row));
    assertThat(found).isEqualTo(dropped);
    assertThat(rows()).hasSize(1000);
    settleAll();
    inbox.sweep();
    assertThat(files("inbox")).isEmpty();
    assertThat(files("done")).hasSize(1000);
  }

  private boolean batchIsClosed() {
    return database.read(Batches::latest).orElseThrow().closedAt().isPresent();
  }

  @Test
  void aBatchEndsWhenNothingMoreIsComing() throws Exception {
    drop("a.gpx", "a");
    takeIn();
    drop("b.gpx", "b");
    inbox.sweep();
    assertThat(batchIsClosed()).isFalse();
    sweepAfter(Duration.ofSeconds(2));
    assertThat(batchIsClosed()).isFalse();
    inbox.sweep();
    assertThat(batchIsClosed()).isTrue();
  }

  @Test
  void aFileThatGrowsForEverHoldsNoBatchUp() throws Exception {
    drop("a.gpx", "a");
    takeIn();
    inbox.sweep();
    assertThat(batchIsClosed()).isTrue();
    drop("b.gpx", "b");
    takeIn();
    StringBuilder log = new StringBuilder();
    for (int i = 0; i < 62; i++) {
      drop("growing.log", log.append('.').toString());
      sweepAfter(Duration.ofSeconds(1));
    }
    assertThat(batchIsClosed()).isTrue();
  }

  @Test
  void aLockedStoreLeavesTheFileInTheInboxAndIsSaidAndTriedAgain() throws Exception {
    drop("run.gpx", "track");
    inbox.sweep();
    now = now.plusSeconds(2);
    String url = "jdbc:sqlite:" + data.resolve("milewarden.db");
    try (Connection other = DriverManager.getConnection(url);
        Statement sql = other.createStatement()) {
      sql.execute("begin immediate");
      assertThatThrownBy(inbox::sweep).isInstanceOf(StoreUnavailable.class);
      sql.execute("rollback");
    }
    assertThat(files("inbox")).containsExactly("run.gpx");
    assertThat(inbox.troubles())
        .singleElement()
        .satisfies(t -> assertThat(t.sentence()).contains("by itself"));
    inbox.sweep();
    assertThat(rows()).hasSize(1);
    assertThat(inbox.troubles()).isEmpty();
  }
}
