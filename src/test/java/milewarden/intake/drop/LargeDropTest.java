package milewarden.intake.drop;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import milewarden.intake.InboxSettings;
import milewarden.intake.Measuring;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class LargeDropTest {
  private static final int MEGABYTE = 1 << 20;

  @TempDir Path data;
  private Database database;
  private Instant now = Instant.parse("2026-05-12T07:00:00Z");
  private final List<Trouble> troubles = new ArrayList<>();

  @BeforeEach
  void open() throws IOException {
    database = Database.open(StoreSettings.in(data), () -> now);
    Files.createDirectories(data.resolve("inbox"));
  }

  @AfterEach
  void close() {
    database.close();
  }

  /** Random bytes don't deflate: they need as many parts as they have megabytes, and one more. */
  private static byte[] noise(int bytes) {
    byte[] noise = new byte[bytes];
    new Random(7).nextBytes(noise);
    return noise;
  }

  private List<Received> take(long largest) throws IOException {
    List<DropFolder.Seen> seen = new DropFolder(data.resolve("inbox")).look().files();
    List<Received> rows = new ArrayList<>();
    new Receiving(database, largest)
        .store(seen, troubles, () -> false)
        .forEach(
            s ->
                s.ids()
                    .forEach(
                        id ->
                            rows.add(
                                database.<Received>read(
                                    tx -> ReceivedFiles.find(tx, id).orElseThrow()))));
    return rows;
  }

  private byte[] kept(String sha256) throws IOException {
    try (InputStream in = Contents.open(database, sha256).orElseThrow()) {
      return in.readAllBytes();
    }
  }

  @Test
  void bytesOfManyPartsComeBackAsTheyWere() throws Exception {
    byte[] noise = noise(5 * MEGABYTE + 17);
    Files.write(data.resolve("inbox/a.gpx"), noise);
    Received row = take(Receiving.LARGEST_BYTES).get(0);
    assertThat(row.sha256()).isEqualTo(Contents.sha256(noise));
    assertThat(kept(row.sha256())).isEqualTo(noise);
    assertThat(database.read(tx -> Contents.bytes(tx, row.sha256())).orElseThrow())
        .isEqualTo(noise);
    assertThat(troubles).isEmpty();
  }

  @Test
  void whatIsSpooledLeavesNothingBehind() throws Exception {
    Files.write(data.resolve("inbox/a.gpx"), noise(5 * MEGABYTE));
    take(Receiving.LARGEST_BYTES);
    try (var files = Files.list(data)) {
      assertThat(files.map(f -> f.getFileName().toString())).noneMatch(n -> n.contains("spool"));
    }
  }

  @Test
  void theSameBytesAreKeptOnce() throws Exception {
    byte[] noise = noise(3 * MEGABYTE);
    Files.write(data.resolve("inbox/a.gpx"), noise);
    Files.write(data.resolve("inbox/b.gpx"), noise);
    List<Received> rows = take(Receiving.LARGEST_BYTES);
    assertThat(rows).extracting(Received::state).containsExactly(State.RECEIVED, State.DUPLICATE);
    assertThat(kept(rows.get(1).sha256())).isEqualTo(noise);
  }

  @Test
  void aLargeZipOfSeveralIsUnpackedFileByFile() throws Exception {
    byte[] noise = noise(5 * MEGABYTE);
    try (ZipOutputStream zip =
        new ZipOutputStream(Files.newOutputStream(data.resolve("inbox/all.zip")))) {
      zip.putNextEntry(new ZipEntry("day/large.bin"));
      zip.write(noise);
      zip.putNextEntry(new ZipEntry("day/session.csv"));
      zip.write("session,unit\n".getBytes(java.nio.charset.StandardCharsets.UTF_8));
    }
    List<Received> rows = take(Receiving.LARGEST_BYTES);
    assertThat(rows).extracting(Received::path).containsExactly("day/session.csv", "day/large.bin");
    assertThat(kept(rows.get(1).sha256())).isEqualTo(noise);
  }

  @Test
  void whatIsTooLargeForAnyReaderIsRefusedWithASentenceAndStaysAFile() throws Exception {
    Files.write(data.resolve("inbox/film.mov"), noise(MEGABYTE));
    Inbox inbox =
        new Inbox(data, Duration.ofSeconds(2), database, () -> now, () -> {}, MEGABYTE - 1);
    Measuring measuring = new Measuring(database, InboxSettings.DEFAULTS, ZoneOffset.UTC, () -> {});
    inbox.sweep();
    now = now.plusSeconds(3);
    inbox.sweep();
    measuring.work();
    inbox.sweep();
    Received row = database.<List<Received>>read(tx -> ReceivedFiles.atPath(tx, "film.mov")).get(0);
    assertThat(row.state()).isEqualTo(State.REFUSED);
    assertThat(row.reason().orElseThrow().sentence())
        .contains("1024 MB", "in the folder refused", "Cut it into parts");
    assertThat(Files.readAllBytes(data.resolve("refused/film.mov"))).isEqualTo(noise(MEGABYTE));
    assertThat(database.<Boolean>read(tx -> Contents.isKept(tx, row.sha256()))).isFalse();
  }

  @Test
  void whatWasRefusedForItsSizeIsRefusedAgain() throws Exception {
    Files.write(data.resolve("inbox/film.mov"), noise(MEGABYTE));
    take(MEGABYTE - 1);
    Measuring measuring = new Measuring(database, InboxSettings.DEFAULTS, ZoneOffset.UTC, () -> {});
    measuring.work();
    database.change(
        tx ->
            ReceivedFiles.atPath(tx, "film.mov").forEach(f -> ReceivedFiles.leftInbox(tx, f.id())));
    take(MEGABYTE - 1);
    measuring.work();
    assertThat(database.<List<Received>>read(tx -> ReceivedFiles.atPath(tx, "film.mov")))
        .singleElement()
        .satisfies(
            row -> {
              assertThat(row.state()).isEqualTo(State.REFUSED);
              assertThat(row.reason().orElseThrow().code()).isEqualTo("too-large");
            });
  }
}
