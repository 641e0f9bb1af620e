package milewarden.store.keep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Arrays;
import java.util.Random;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.TestStores;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Kind;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

/** Bytes that take several rows, on both databases. */
@ParameterizedClass
@EnumSource(TestStores.class)
final class PartsTest {
  private static final int MEGABYTE = 1 << 20;
  private static final InstantSource CLOCK =
      InstantSource.fixed(Instant.parse("2026-05-12T07:00:00Z"));

  @Parameter TestStores stores;
  @TempDir Path folder;
  private StoreSettings settings;
  private Database database;

  @BeforeEach
  void open() {
    settings = stores.fresh(folder);
    database = Database.open(settings, CLOCK);
  }

  @AfterEach
  void close() {
    database.close();
  }

  /** Random bytes don't deflate: these need three rows behind the first, the last one short. */
  private static byte[] noise() {
    byte[] noise = new byte[3 * MEGABYTE + 17];
    new Random(11).nextBytes(noise);
    return noise;
  }

  private String keep(byte[] bytes) throws IOException {
    try (Contents.Packed packed = Contents.pack(new ByteArrayInputStream(bytes), folder)) {
      return database.write(
          tx -> {
            Contents.put(tx, packed);
            ReceivedFiles.receive(
                tx, Batches.current(tx), "day/large.fit", packed.sha256(), Kind.TRACK);
            return packed.sha256();
          });
    }
  }

  private int parts(String sha256) {
    return database.read(
        tx ->
            tx.query("select count(*) from content_part where sha256 = :sha256")
                .bind("sha256", sha256)
                .mapTo(Integer.class)
                .one());
  }

  private void change(String sql, String sha256) {
    database.change(tx -> tx.update(sql).bind("sha256", sha256).execute());
  }

  @Test
  void theyComeBackAsAWholeAndAsAStream() throws IOException {
    byte[] noise = noise();
    String sha256 = keep(noise);
    assertThat(sha256).isEqualTo(Contents.sha256(noise));
    assertThat(parts(sha256)).isEqualTo(3);
    assertThat(database.read(tx -> Contents.bytes(tx, sha256)).orElseThrow()).isEqualTo(noise);
    try (InputStream in = Contents.open(database, sha256).orElseThrow()) {
      in.skipNBytes(2 * MEGABYTE);
      assertThat(in.readNBytes(100))
          .isEqualTo(Arrays.copyOfRange(noise, 2 * MEGABYTE, 2 * MEGABYTE + 100));
      assertThat(in.readAllBytes()).hasSize(noise.length - 2 * MEGABYTE - 100);
    }
    assertThat(StoreCheck.check(settings, CLOCK).findings()).isEmpty();
  }

  @Test
  void theyAreKeptOnceAndTheirSpoolIsGone() throws IOException {
    String sha256 = keep(noise());
    assertThat(keep(noise())).isEqualTo(sha256);
    assertThat(parts(sha256)).isEqualTo(3);
    try (var files = Files.list(folder)) {
      assertThat(files.map(f -> f.getFileName().toString())).noneMatch(n -> n.contains("spool"));
    }
  }

  @Test
  void aPartThatIsMissingIsFound() throws IOException {
    String sha256 = keep(noise());
    change("delete from content_part where sha256 = :sha256 and number = 2", sha256);
    assertThatThrownBy(() -> database.read(tx -> Contents.bytes(tx, sha256)))
        .isInstanceOf(IllegalStateException.class);
    assertFound(sha256);
  }

  @Test
  void aPartWithOtherBytesIsFound() throws IOException {
    String sha256 = keep(noise());
    byte[] other = new byte[MEGABYTE];
    new Random(12).nextBytes(other);
    database.change(
        tx ->
            tx.update(
                    "update content_part set deflated = :bytes where sha256 = :sha256 and number = 1")
                .bind("bytes", other)
                .bind("sha256", sha256)
                .execute());
    assertFound(sha256);
  }

  private void assertFound(String sha256) {
    assertThat(StoreCheck.check(settings, CLOCK).findings())
        .singleElement()
        .satisfies(
            f -> {
              assertThat(f.kind()).isEqualTo(StoreFinding.Kind.BYTES);
              assertThat(f.what()).contains("day/large.fit", sha256);
            });
  }
}
