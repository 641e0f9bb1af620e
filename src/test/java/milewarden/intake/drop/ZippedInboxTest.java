package milewarden.intake.drop;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import milewarden.intake.InboxSettings;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
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

/** A zip is taken as the files that it holds, as if they had been unpacked where it lies. */
final class ZippedInboxTest {
  private static final String A = "lat,lon\n1,1\n1,2\n";
  private static final String B = "lat,lon\n2,1\n2,2\n";
  private static final String SHEET = "unit,file\nOne,a.csv\n";

  @TempDir Path data;
  private Instant now = Instant.parse("2026-05-12T07:00:00Z");
  private Database database;
  private Inbox inbox;

  @BeforeEach
  void open() {
    database = Database.open(StoreSettings.in(data), () -> now);
    inbox = new Inbox(data, InboxSettings.DEFAULTS.standStill(), database, () -> now, () -> {});
  }

  @AfterEach
  void close() {
    database.close();
  }

  private static byte[] zip(Map<String, String> files) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (ZipOutputStream zip = new ZipOutputStream(out)) {
      for (Map.Entry<String, String> e : files.entrySet()) {
        zip.putNextEntry(new ZipEntry(e.getKey()));
        zip.write(e.getValue().getBytes(StandardCharsets.UTF_8));
      }
    }
    return out.toByteArray();
  }

  private static Map<String, String> files(String... namesAndTexts) {
    Map<String, String> files = new LinkedHashMap<>();
    for (int i = 0; i < namesAndTexts.length; i += 2)
      files.put(namesAndTexts[i], namesAndTexts[i + 1]);
    return files;
  }

  private Path drop(String path, byte[] bytes) throws IOException {
    Path file = data.resolve("inbox").resolve(path);
    Files.createDirectories(file.getParent());
    return Files.write(file, bytes);
  }

  private void takeIn() {
    inbox.sweep();
    now = now.plus(Duration.ofSeconds(2));
    inbox.sweep();
  }

  private List<Received> rows() {
    List<Received> rows =
        new ArrayList<>(
            database.read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 1000)));
    java.util.Collections.reverse(rows);
    return rows;
  }

  private String stored(Received row) {
    byte[] bytes = database.read(tx -> Contents.bytes(tx, row.sha256())).orElseThrow();
    return new String(bytes, StandardCharsets.UTF_8);
  }

  @Test
  void itsFilesAreKeptByTheirPathsAndTheSheetComesFirst() throws IOException {
    drop("Box/2.1/all.zip", zip(files("fixed/a.csv", A, "hand/b.csv", B, "session.csv", SHEET)));
    takeIn();
    assertThat(rows())
        .extracting(Received::path)
        .containsExactly("Box/2.1/session.csv", "Box/2.1/fixed/a.csv", "Box/2.1/hand/b.csv");
    assertThat(rows().get(0).kind()).isEqualTo(Kind.SHEET);
    assertThat(stored(rows().get(1))).isEqualTo(A);
  }

  @Test
  void itLeavesTheInboxWhenTheLastOfItsFilesIsSettled() throws IOException {
    Path zip = drop("all.zip", zip(files("a.csv", A, "b.csv", B)));
    takeIn();
    List<Received> rows = rows();
    database.change(
        tx -> FileQueue.refused(tx, rows.get(0).id(), new Reason("unreadable", "", "Unreadable.")));
    inbox.sweep();
    assertThat(zip).exists();
    database.change(tx -> FileQueue.measured(tx, rows.get(1).id()));
    inbox.sweep();
    assertThat(zip).doesNotExist();
    assertThat(data.resolve("done/all.zip")).exists();
  }

  @Test
  void theSameZipAgainMakesNothingTwice() throws IOException {
    byte[] bytes = zip(files("a.csv", A, "b.csv", B));
    drop("all.zip", bytes);
    takeIn();
    rows().forEach(r -> database.change(tx -> FileQueue.measured(tx, r.id())));
    inbox.sweep();
    drop("again.zip", bytes);
    takeIn();
    assertThat(rows())
        .extracting(Received::state)
        .containsExactly(State.MEASURED, State.MEASURED, State.DUPLICATE, State.DUPLICATE);
  }

  @Test
  void aZipOfOneRecordingIsThatRecording() throws IOException {
    drop("one.zip", zip(files("doc.csv", A, "files/icon.png", "picture")));
    takeIn();
    assertThat(rows()).extracting(Received::path).containsExactly("one.zip");
  }

  @Test
  void aDamagedZipGivesWhatCameOutAndIsKeptItself() throws IOException {
    byte[] whole = zip(files("a.csv", A, "b.csv", B, "c.csv", A.repeat(200)));
    drop("half.zip", Arrays.copyOf(whole, whole.length - 250));
    takeIn();
    assertThat(rows()).extracting(Received::path).contains("a.csv", "b.csv", "half.zip");
  }

  @Test
  void noNameInAZipLeavesItsFolder() throws IOException {
    drop("Box/all.zip", zip(files("../../a.csv", A, "/etc/b.csv", B)));
    takeIn();
    assertThat(rows()).extracting(Received::path).containsExactly("Box/a.csv", "Box/etc/b.csv");
  }
}
