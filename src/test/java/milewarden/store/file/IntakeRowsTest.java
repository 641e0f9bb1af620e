package milewarden.store.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.store.Database;
import milewarden.store.Id.BatchId;
import milewarden.store.Id.FileId;
import milewarden.store.TestStores;
import milewarden.store.Tx;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.file.Standings.Standing;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.run.Sessions;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** Files, tags, sheets, names and sessions, on both databases. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class IntakeRowsTest {
  private static final Instant T0 = Instant.parse("2026-05-12T07:00:00Z");
  private static final LocalDate DAY = LocalDate.parse("2026-05-12");

  @Parameter TestStores stores;
  @TempDir Path folder;
  private Database database;
  private Instant now = T0;

  @BeforeEach
  void open() {
    database = stores.open(folder, () -> now);
  }

  @AfterEach
  void close() {
    database.close();
  }

  private FileId receive(Tx tx, String path, String text) {
    Contents.Packed bytes = Contents.pack(text.getBytes(StandardCharsets.UTF_8));
    Contents.put(tx, bytes);
    return ReceivedFiles.receive(tx, Batches.current(tx), path, bytes.sha256(), Kind.TRACK);
  }

  @Test
  void bytesComeBackAsTheyWereGiven() {
    byte[] bytes = new byte[100_000];
    for (int i = 0; i < bytes.length; i++) bytes[i] = (byte) (i * i / 7);
    Contents.Packed packed = Contents.pack(bytes);
    database.change(tx -> Contents.put(tx, packed));
    database.change(tx -> Contents.put(tx, packed));
    var found1 = database.read(tx -> Contents.bytes(tx, packed.sha256()));
    assertThat(found1).hasValue(bytes);
    var found2 = database.read(tx -> Contents.bytes(tx, "0".repeat(64)));
    assertThat(found2).isEmpty();
  }

  @Test
  void theHashIsTheStandardsOne() {
    // FIPS 180-4 example: SHA-256 of "abc" (NIST, CSRC examples with intermediate values).
    assertThat(Contents.sha256("abc".getBytes(StandardCharsets.US_ASCII)))
        .isEqualTo("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  }

  @Test
  void emptyBytesAreBytesToo() {
    Contents.Packed packed = Contents.pack(new byte[0]);
    database.change(tx -> Contents.put(tx, packed));
    var found3 = database.read(tx -> Contents.bytes(tx, packed.sha256()));
    assertThat(found3).hasValue(new byte[0]);
  }

  @Test
  void aFailureKeepsNothingOfTheTransaction() {
    assertThatThrownBy(
            () ->
                database.change(
                    tx -> {
                      receive(tx, "a.gpx", "a");
                      throw new IllegalStateException("halfway");
                    }))
        .hasMessage("halfway");
    var found4 = database.read(ReceivedFiles::counts);
    assertThat(found4).isEmpty();
    var found5 = database.read(Batches::latest);
    assertThat(found5).isEmpty();
  }

  @Test
  void aClaimedFileIsGivenToNobodyElseUntilItsLeaseIsOver() {
    FileId first = database.write(tx -> receive(tx, "a.gpx", "a"));
    FileId second = database.write(tx -> receive(tx, "b.gpx", "b"));
    assertThat(claimOne()).containsExactly(first);
    assertThat(claimOne()).containsExactly(second);
    assertThat(claimOne()).isEmpty();
    now = now.plusSeconds(60);
    assertThat(claimOne()).containsExactly(first);
    database.change(FileQueue::releaseClaims);
    assertThat(claimOne()).containsExactly(first);
    database.change(tx -> FileQueue.measured(tx, first));
    assertThat(claimOne()).containsExactly(second);
  }

  private List<FileId> claimOne() {
    return database.write(tx -> FileQueue.claim(tx, 1, Duration.ofSeconds(60))).stream()
        .map(ReceivedFiles.Received::id)
        .toList();
  }

  @Test
  void whatFitsNoCourseStandsApartFromWhatIsRefusedAndIsTriedAgain() {
    FileId far = database.write(tx -> receive(tx, "far.gpx", "a"));
    FileId half = database.write(tx -> receive(tx, "half.gpx", "b"));
    FileId torn = database.write(tx -> receive(tx, "torn.gpx", "c"));
    FileId measured = database.write(tx -> receive(tx, "good.gpx", "d"));
    assertThat(standings()).isEqualTo(Map.of(Standing.RECEIVED, 4));
    database.change(tx -> FileQueue.refused(tx, torn, new Reason("not-a-track", "", "No track.")));
    database.change(tx -> FileQueue.measured(tx, measured));
    assertThat(standings())
        .isEqualTo(Map.of(Standing.RECEIVED, 2, Standing.MEASURED, 1, Standing.REFUSED, 1));
    database.change(tx -> FileQueue.refused(tx, far, new Reason("no-course", "", "Far.")));
    database.change(tx -> FileQueue.refused(tx, half, new Reason("no-pass", "", "Half.")));
    Map<Standing, Integer> apart =
        Map.of(Standing.MEASURED, 1, Standing.REFUSED, 1, Standing.OFF_COURSE, 2);
    assertThat(standings()).isEqualTo(apart);
    List<FileId> all = List.of(far, half, torn, measured);
    Map<Standing, Integer> ofThese = database.read(tx -> Standings.counts(tx, all));
    assertThat(ofThese).isEqualTo(apart);
    assertThat(standing(Standing.OFF_COURSE)).containsExactly(half, far);
    assertThat(standing(Standing.REFUSED)).containsExactly(torn);
    assertThat(standing(Standing.MEASURED, Standing.OFF_COURSE))
        .containsExactly(measured, half, far);
    database.change(Standings::tryAgainOffCourse);
    assertThat(standings())
        .isEqualTo(Map.of(Standing.RECEIVED, 2, Standing.MEASURED, 1, Standing.REFUSED, 1));
  }

  private Map<Standing, Integer> standings() {
    return database.read(tx -> Standings.counts(tx));
  }

  private List<FileId> standing(Standing... of) {
    return database.read(tx -> Standings.page(tx, Stream.of(of), 10)).stream()
        .map(ReceivedFiles.Received::id)
        .toList();
  }

  @Test
  void whatBecameOfAFileIsKeptWithItsReason() {
    FileId waits = database.write(tx -> receive(tx, "Unit A/1.0/a.gpx", "a"));
    FileId refused = database.write(tx -> receive(tx, "b.gpx", "b"));
    Reason reason = new Reason("not-a-track", "line 3", "b.gpx is no track.");
    database.change(
        tx -> {
          FileQueue.waiting(
              tx,
              waits,
              List.of(TagName.CARRIAGE, TagName.GAIT),
              new Reason("missing", "", "Two tags are missing."));
          FileQueue.refused(tx, refused, reason);
          ReceivedFiles.leftInbox(tx, refused);
        });
    ReceivedFiles.Received found = database.read(tx -> ReceivedFiles.find(tx, waits)).orElseThrow();
    assertThat(found.missing()).containsExactly(TagName.CARRIAGE, TagName.GAIT);
    assertThat(found.state()).isEqualTo(State.WAITING);
    var found6 = database.read(tx -> ReceivedFiles.find(tx, refused));
    assertThat(found6.orElseThrow().reason()).hasValue(reason);
    var found7 = database.read(ReceivedFiles::counts);
    assertThat(found7)
        .containsExactlyInAnyOrderEntriesOf(Map.of(State.WAITING, 1, State.REFUSED, 1));
    assertThat(found.leftInbox()).isFalse();
    assertThat(found6.orElseThrow().leftInbox()).isTrue();
    var found9 = database.write(tx -> FileQueue.again(tx, State.REFUSED, "not-a-track"));
    assertThat(found9).isEqualTo(1);
    var found10 = database.read(tx -> ReceivedFiles.find(tx, refused));
    assertThat(found10.orElseThrow().reason()).isEmpty();
  }

  @Test
  void pagesOfFilesFollowOneAnother() {
    database.change(
        tx -> {
          for (int i = 0; i < 5; i++) receive(tx, i + ".gpx", "x" + i);
        });
    List<ReceivedFiles.Received> first =
        database.read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 3));
    List<ReceivedFiles.Received> second =
        database.read(
            tx ->
                ReceivedFiles.page(
                    tx, Optional.of(State.RECEIVED), Optional.of(first.get(2).id()), 3));
    assertThat(first)
        .extracting(ReceivedFiles.Received::path)
        .containsExactly("4.gpx", "3.gpx", "2.gpx");
    assertThat(second).extracting(ReceivedFiles.Received::path).containsExactly("1.gpx", "0.gpx");
  }

  @Test
  void aBatchIsQuietWhenItIsClosedAndWorkedOff() {
    FileId file = database.write(tx -> receive(tx, "a.gpx", "a"));
    BatchId batch = database.write(Batches::current);
    var found11 = database.read(Batches::isQuiet);
    assertThat(found11).isFalse();
    database.change(tx -> FileQueue.measured(tx, file));
    var found12 = database.read(Batches::isQuiet);
    assertThat(found12).as("still open").isFalse();
    database.change(Batches::close);
    var found13 = database.read(Batches::isQuiet);
    assertThat(found13).isTrue();
    var found14 = database.write(Batches::current);
    assertThat(found14).isNotEqualTo(batch);
    var found15 = database.read(Batches::isQuiet);
    assertThat(found15).isFalse();
  }

  @Test
  void aBatchCountsItsFilesByState() {
    database.change(tx -> FileQueue.measured(tx, receive(tx, "a.gpx", "a")));
    database.change(tx -> receive(tx, "b.gpx", "b"));
    Batches.Batch batch = database.read(Batches::latest).orElseThrow();
    assertThat(batch.files()).isEqualTo(Map.of(State.MEASURED, 1, State.RECEIVED, 1));
    assertThat(batch.toDo()).isEqualTo(1);
  }

  @Test
  void theFirstSourceWinsAndEveryWordIsKept() {
    FileId file = database.write(tx -> receive(tx, "a.gpx", "a"));
    database.change(
        tx -> {
          Tags.put(tx, file, Tags.WHOLE, TagSource.FOLDER, Map.of(TagName.UNIT, "Folder"), "");
          Tags.put(
              tx,
              file,
              2,
              TagSource.SHEET,
              Map.of(TagName.UNIT, "Sheet", TagName.SHOWN, "1.01"),
              "session.csv, row 4");
          Tags.put(tx, file, Tags.WHOLE, TagSource.FILE, Map.of(TagName.UNIT, "File"), "");
        });
    List<Tags.Tag> tags = database.read(tx -> Tags.of(tx, file));
    assertThat(tags).hasSize(4);
    assertThat(Tags.winners(tags, 1).get(TagName.UNIT).value()).isEqualTo("Folder");
    assertThat(Tags.winners(tags, 1)).doesNotContainKey(TagName.SHOWN);
    assertThat(Tags.winners(tags, 2).get(TagName.UNIT).origin()).isEqualTo("session.csv, row 4");
    database.change(
        tx -> Tags.put(tx, file, Tags.WHOLE, TagSource.EDIT, Map.of(TagName.UNIT, "Mine"), ""));
    tags = database.read(tx -> Tags.of(tx, file));
    assertThat(Tags.winners(tags, 2).get(TagName.UNIT).value()).isEqualTo("Mine");
    database.change(tx -> Tags.drop(tx, file, TagSource.SHEET));
    var found16 = database.read(tx -> Tags.of(tx, file));
    assertThat(found16).hasSize(3);
  }

  @Test
  void aSheetsRowIsRevisedByTheNextAndCountedOnce() {
    FileId sheet = database.write(tx -> receive(tx, "session.csv", "s"));
    SheetRows.Key key = new SheetRows.Key("S1", "A", "1");
    SheetRows.Words words =
        new SheetRows.Words(
            key, sheet, 2, "a.gpx", Map.of(TagName.SHOWN, "0.27"), Map.of("shoes", "old"));
    SheetRows.Words later =
        new SheetRows.Words(key, sheet, 5, "a.gpx", Map.of(TagName.SHOWN, "0.28"), Map.of());
    var found17 = database.write(tx -> SheetRows.take(tx, words));
    assertThat(found17.changed()).isTrue();
    var found18 = database.write(tx -> SheetRows.take(tx, words));
    assertThat(found18.changed()).isFalse();
    SheetRows.Taken revised = database.write(tx -> SheetRows.take(tx, later));
    assertThat(revised.changed()).isTrue();
    assertThat(revised.before().orElseThrow().words()).isEqualTo(words);
    var found19 = database.read(tx -> SheetRows.atPath(tx, "a.gpx"));
    assertThat(found19)
        .singleElement()
        .satisfies(
            row -> {
              assertThat(row.words()).isEqualTo(later);
              assertThat(row.revision()).isEqualTo(2);
            });
    var found20 = database.read(tx -> SheetRows.ofSheet(tx, sheet));
    assertThat(found20).hasSize(2);
  }

  @Test
  void aNameIsMadeOnceInWhateverCase() {
    Models.Unit made = database.write(tx -> Models.unit(tx, "Alder", "Alder"));
    Models.Unit again = database.write(tx -> Models.unit(tx, " ALDER ", "Other"));
    assertThat(again).isEqualTo(made);
    var found21 = database.read(Models::all);
    assertThat(found21).hasSize(1);
  }

  @Test
  void aFirmwareIsDatedByItsFirstSessionUntilTheTesterDatesIt() {
    Models.Model model = database.write(tx -> Models.named(tx, "Alder"));
    database.change(
        tx -> {
          Firmware.seen(tx, model.id(), "10.0", DAY);
          Firmware.seen(tx, model.id(), "9.0", DAY.minusDays(30));
          Firmware.seen(tx, model.id(), "10.0", DAY.minusDays(2));
        });
    assertThat(versions(model)).containsExactly("9.0", "10.0");
    assertThat(release(model, "10.0").release().date()).isEqualTo(DAY.minusDays(2));
    assertThat(release(model, "10.0").release().assumed()).isTrue();
    database.change(
        tx -> {
          Firmware.register(tx, model.id(), "10.0", DAY.minusDays(90));
          Firmware.seen(tx, model.id(), "10.0", DAY.minusDays(200));
        });
    assertThat(versions(model)).as("by date, not by text").containsExactly("10.0", "9.0");
    assertThat(release(model, "10.0").release().assumed()).isFalse();
  }

  private List<String> versions(Models.Model model) {
    return database.read(tx -> Firmware.of(tx, model.id())).stream()
        .map(Firmware.Known::version)
        .toList();
  }

  private Firmware.Known release(Models.Model model, String version) {
    return database.read(tx -> Firmware.find(tx, model.id(), version)).orElseThrow();
  }

  @Test
  void recordingsWithinThreeHoursAreOneSessionInWhateverOrderTheyCome() {
    Duration three = Duration.ofHours(3);
    var early = database.write(tx -> Sessions.untagged(tx, T0, DAY, three));
    var late =
        database.write(tx -> Sessions.untagged(tx, T0.plus(Duration.ofHours(5)), DAY, three));
    assertThat(late.id()).isNotEqualTo(early.id());
    var between =
        database.write(tx -> Sessions.untagged(tx, T0.plus(Duration.ofMinutes(150)), DAY, three));
    assertThat(between.id()).isEqualTo(early.id());
    var found22 = database.read(tx -> Sessions.page(tx, 10, 0));
    assertThat(found22)
        .singleElement()
        .satisfies(
            s -> {
              assertThat(s.firstStart()).isEqualTo(T0);
              assertThat(s.lastStart()).isEqualTo(T0.plus(Duration.ofHours(5)));
            });
    var nextDay =
        database.write(
            tx -> Sessions.untagged(tx, T0.plus(Duration.ofHours(6)), DAY.plusDays(1), three));
    assertThat(nextDay.id()).isNotEqualTo(early.id());
  }

  @Test
  void aTaggedSessionTakesTheEarliestStart() {
    database.change(
        tx -> {
          Sessions.tagged(tx, "S1", T0.plusSeconds(100), DAY);
          Sessions.tagged(tx, "S1", T0, DAY);
          Sessions.tagged(tx, "S1", T0.plusSeconds(7), DAY);
        });
    var found23 = database.read(tx -> Sessions.page(tx, 10, 0));
    assertThat(found23).singleElement().satisfies(s -> assertThat(s.firstStart()).isEqualTo(T0));
  }

  @Test
  void aReadingTransactionChangesNothing() {
    assertThatThrownBy(() -> database.read(tx -> Models.named(tx, "Alder")))
        .isInstanceOf(IllegalStateException.class);
    var found24 = database.read(Models::all);
    assertThat(found24).isEmpty();
  }
}
