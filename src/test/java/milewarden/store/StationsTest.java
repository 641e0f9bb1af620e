package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import milewarden.store.Id.FileId;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Two stations on one PostgreSQL. */
final class StationsTest {
  private static final Duration LEASE = Duration.ofMinutes(5);
  private static final Duration SILENCE = Duration.ofSeconds(30);

  @TempDir Path folder;
  private Instant now = Instant.parse("2026-05-12T07:00:00Z");
  private final InstantSource clock = () -> now;
  private Database one;
  private Database two;

  @BeforeEach
  void open() {
    StoreSettings settings = TestStores.POSTGRES.fresh(folder);
    one = Database.open(settings, clock);
    two = Database.open(settings, clock);
    beat(one, "one:/data");
    beat(two, "two:/data");
  }

  @AfterEach
  void close() {
    one.close();
    two.close();
  }

  @Test
  void whatOneHasClaimedTheOtherLeaves() {
    FileId first = receive(one, "a.gpx");
    FileId second = receive(one, "b.gpx");
    assertThat(claim(one, 1)).containsExactly(first);
    assertThat(claim(two, 10)).containsExactly(second);
    assertThat(claim(one, 10)).isEmpty();
    assertThat(isHeld(one, first)).isTrue();
    assertThat(isHeld(two, first)).isFalse();
  }

  @Test
  void whatASilentStationHadClaimedIsTakenOverAndIsNoLongerItsOwn() {
    FileId file = receive(one, "a.gpx");
    assertThat(claim(one, 1)).containsExactly(file);
    now = now.plus(SILENCE).plusSeconds(1);
    assertThat(beat(two, "two:/data")).containsExactly(one.station());
    assertThat(isHeld(one, file)).as("held while nobody took it over").isFalse();
    assertThat(claim(two, 1)).containsExactly(file);
    assertThat(isHeld(two, file)).isTrue();
    // It was only cut off: it says so, and takes nothing away from the other.
    assertThat(beat(one, "one:/data")).isEmpty();
    assertThat(isHeld(two, file)).isTrue();
  }

  @Test
  void aStationThatIsHeardOfKeepsWhatItClaimed() {
    FileId file = receive(one, "a.gpx");
    assertThat(claim(one, 1)).containsExactly(file);
    now = now.plus(SILENCE).minusSeconds(1);
    assertThat(beat(one, "one:/data")).isEmpty();
    now = now.plusSeconds(2);
    assertThat(beat(two, "two:/data")).isEmpty();
    assertThat(isHeld(one, file)).isTrue();
  }

  @Test
  void aServerThatStartsAgainInItsPlaceFreesAtOnceWhatItsPredecessorHeld() {
    FileId file = receive(one, "a.gpx");
    assertThat(claim(one, 1)).containsExactly(file);
    assertThat(beat(two, "one:/data")).containsExactly(one.station());
    assertThat(claim(two, 1)).containsExactly(file);
  }

  @Test
  void aFileThatWasSentBackToTheQueueIsNoLongerHeld() {
    FileId file = receive(one, "a.gpx");
    claim(one, 1);
    two.change(tx -> FileQueue.again(tx, file));
    assertThat(isHeld(one, file)).isFalse();
  }

  @Test
  void eachStationHasABatchOfItsOwnAndThatOfASilentOneEnds() {
    receive(one, "a.gpx");
    receive(two, "b.gpx");
    one.change(Batches::close);
    assertThat(openBatches()).isEqualTo(1);
    now = now.plus(SILENCE).plusSeconds(1);
    beat(one, "one:/data");
    assertThat(openBatches()).isZero();
  }

  @Test
  void aStationThatStopsLeavesNothingBehind() {
    FileId file = receive(one, "a.gpx");
    claim(one, 1);
    one.change(Stations::leave);
    assertThat(two.read(Stations::all))
        .extracting(Stations.Station::name)
        .containsExactly(two.station());
    assertThat(claim(two, 1)).containsExactly(file);
    assertThat(openBatches()).isZero();
  }

  private int openBatches() {
    return one.read(
        tx ->
            tx.query("select count(*) as open from batch where closed_at is null")
                .map(Row.as(r -> r.count("open")))
                .one());
  }

  private static List<String> beat(Database database, String place) {
    return database.write(tx -> Stations.beat(tx, place, SILENCE));
  }

  private static FileId receive(Database database, String path) {
    Contents.Packed bytes = Contents.pack(path.getBytes(StandardCharsets.UTF_8));
    return database.write(
        tx -> {
          Contents.put(tx, bytes);
          return ReceivedFiles.receive(tx, Batches.current(tx), path, bytes.sha256(), Kind.TRACK);
        });
  }

  private static List<FileId> claim(Database database, int limit) {
    return database.write(tx -> FileQueue.claim(tx, limit, LEASE)).stream()
        .map(Received::id)
        .toList();
  }

  private static boolean isHeld(Database database, FileId file) {
    Optional<State> state = database.read(tx -> ReceivedFiles.find(tx, file)).map(Received::state);
    assertThat(state).contains(State.RECEIVED);
    return database.read(tx -> FileQueue.isHeld(tx, file));
  }
}
