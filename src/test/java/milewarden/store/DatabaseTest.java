package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import milewarden.store.file.Contents;
import milewarden.store.run.Models;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** What the store does when the world around it fails, and when many write at once. */
final class DatabaseTest {
  private static final Instant NOW = Instant.parse("2026-05-12T07:00:00.123456789Z");

  @TempDir Path folder;

  private Database sqlite() {
    return Database.open(StoreSettings.in(folder), () -> NOW);
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void aTransactionHasOneInstantInWholeMilliseconds(TestStores stores) {
    try (Database database = stores.open(folder, () -> NOW)) {
      Instant now = database.write(Tx::now);
      assertThat(now).isEqualTo(Instant.parse("2026-05-12T07:00:00.123Z"));
    }
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void aStoreIsOpenedAgainWithWhatItHeld(TestStores stores) {
    StoreSettings settings = stores.fresh(folder);
    try (Database database = Database.open(settings, () -> NOW)) {
      database.change(tx -> Models.named(tx, "Alder"));
    }
    try (Database database = Database.open(settings, () -> NOW)) {
      List<Models.Model> models = database.read(Models::all);
      assertThat(models).extracting(Models.Model::name).containsExactly("Alder");
    }
  }

  @ParameterizedTest
  @EnumSource(TestStores.class)
  void writersThatReadFirstLoseNoneOfTheirWork(TestStores stores) throws Exception {
    int workers = 8;
    int rounds = 25;
    ExecutorService pool = Executors.newFixedThreadPool(workers);
    try (Database database = stores.open(folder, () -> NOW)) {
      database.change(tx -> Models.unit(tx, "0", "Counter"));
      List<? extends Future<?>> all =
          IntStream.range(0, workers)
              .mapToObj(
                  w ->
                      pool.submit(
                          () -> {
                            for (int i = 0; i < rounds; i++)
                              database.change(
                                  tx ->
                                      Models.unit(
                                          tx,
                                          Integer.toString(Models.units(tx).size()),
                                          "Counter"));
                          }))
              .toList();
      for (Future<?> f : all) f.get();
      int units = database.read(tx -> Models.units(tx).size());
      assertThat(units).isEqualTo(1 + workers * rounds);
    } finally {
      pool.shutdownNow();
    }
  }

  @Test
  void aReaderSeesTheStateBeforeAWriterThatIsNotDone() {
    try (Database database = sqlite()) {
      database.change(
          tx -> {
            Models.named(tx, "Alder");
            List<Models.Model> seen = database.read(Models::all);
            assertThat(seen).isEmpty();
          });
    }
  }

  @Test
  void theWriteAheadLogIsSyncedInFull() {
    try (Database database = sqlite()) {
      String journal =
          database.write(tx -> tx.query("pragma journal_mode").mapTo(String.class).one());
      int synchronous =
          database.write(tx -> tx.query("pragma synchronous").mapTo(Integer.class).one());
      assertThat(journal).isEqualTo("wal");
      // https://sqlite.org/pragma.html#pragma_synchronous: 2 is FULL.
      assertThat(synchronous).isEqualTo(2);
    }
  }

  @Test
  void aFullDiskIsSaidAndWhatWasStoredIsSafe() {
    byte[] noise = new byte[4_000_000];
    new Random(1).nextBytes(noise);
    Contents.Packed packed = Contents.pack(noise);
    try (Database database = sqlite()) {
      database.change(tx -> Models.named(tx, "Alder"));
      // SQLite fails with the same result code, SQLITE_FULL, as on a disk without room.
      assertThatThrownBy(
              () ->
                  database.change(
                      tx -> {
                        tx.handle().execute("pragma max_page_count = 200");
                        Contents.put(tx, packed);
                      }))
          .isInstanceOf(StoreUnavailable.class)
          .hasMessageContaining("is full")
          .hasMessageContaining("Make room")
          .hasMessageContaining(folder.toString());
      List<Models.Model> models = database.read(Models::all);
      assertThat(models).hasSize(1);
      database.change(tx -> tx.handle().execute("pragma max_page_count = 100000"));
      database.change(tx -> Contents.put(tx, packed));
      Optional<byte[]> stored = database.read(tx -> Contents.bytes(tx, packed.sha256()));
      assertThat(stored).hasValue(noise);
    }
  }

  @Test
  void aDatabaseLockedByAnotherProgramIsSaid() throws SQLException {
    try (Database database = sqlite();
        Connection other =
            DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("milewarden.db"));
        Statement statement = other.createStatement()) {
      statement.execute("begin immediate");
      assertThatThrownBy(() -> database.change(tx -> Models.named(tx, "Alder")))
          .isInstanceOf(StoreUnavailable.class)
          .hasMessageContaining("is locked by another program")
          .hasMessageContaining("milewarden.db");
      statement.execute("rollback");
      database.change(tx -> Models.named(tx, "Alder"));
    }
  }

  @Test
  void aDamagedDatabaseIsSaidAtTheStartAndNotTouched() throws IOException {
    try (Database database = sqlite()) {
      for (int i = 0; i < 200; i++) {
        String name = "Model " + i;
        database.change(tx -> Models.named(tx, name));
      }
    }
    Path file = folder.resolve("milewarden.db");
    try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
      byte[] junk = new byte[20_000];
      new Random(2).nextBytes(junk);
      channel.write(ByteBuffer.wrap(junk), 8192);
    }
    byte[] before = Files.readAllBytes(file);
    assertThatThrownBy(this::sqlite)
        .isInstanceOf(StoreUnavailable.class)
        .hasMessageContaining("is damaged")
        .hasMessageContaining("restore");
    assertThat(Files.readAllBytes(file)).isEqualTo(before);
  }

  /** One page that no start reads: the last leaf of a table (sqlite.org/fileformat2.html, 1.6). */
  @Test
  void aPageThatNothingReadsAtTheStartIsLookedAtAllTheSame() throws IOException {
    try (Database database = sqlite()) {
      for (int i = 0; i < 400; i++) {
        Contents.Packed packed =
            Contents.pack(("recording " + i + " ".repeat(i)).getBytes(StandardCharsets.UTF_8));
        database.change(tx -> Contents.put(tx, packed));
      }
    }
    Path file = folder.resolve("milewarden.db");
    byte[] all = Files.readAllBytes(file);
    int page = (all[16] & 0xff) << 8 | (all[17] & 0xff);
    int last = all.length - page;
    while (all[last] != 0x0d) last -= page;
    all[last] = 0x7f;
    Files.write(file, all);
    assertThatThrownBy(this::sqlite)
        .isInstanceOf(StoreUnavailable.class)
        .hasMessageContaining("is damaged")
        .hasMessageContaining("milewarden restore FILE");
    assertThat(Files.readAllBytes(file)).isEqualTo(all);
  }

  @Test
  void aStoreThatMayNotBeWrittenIsSaid() {
    try (Database database = sqlite()) {
      // SQLite fails with the same result code, SQLITE_READONLY, as on a disk that is read-only.
      assertThatThrownBy(
              () ->
                  database.change(
                      tx -> {
                        tx.handle().execute("pragma query_only = true");
                        try {
                          Models.named(tx, "Alder");
                        } finally {
                          tx.handle().execute("pragma query_only = false");
                        }
                      }))
          .isInstanceOf(StoreUnavailable.class)
          .hasMessageContaining("can't be written")
          .hasMessageContaining("Give the user who runs Milewarden the right to write there")
          .hasMessageContaining(folder.toString());
      database.change(tx -> Models.named(tx, "Alder"));
    }
  }

  @Test
  void aDatabaseThatWasCutOffIsSaidAtTheStartWithWhatToDo() throws IOException {
    try (Database database = sqlite()) {
      for (int i = 0; i < 200; i++) {
        String name = "Model " + i;
        database.change(tx -> Models.named(tx, name));
      }
    }
    Path file = folder.resolve("milewarden.db");
    try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
      channel.truncate(channel.size() / 2);
    }
    assertThatThrownBy(this::sqlite)
        .isInstanceOf(StoreUnavailable.class)
        .hasMessageContaining("is damaged")
        .hasMessageContaining("milewarden restore FILE");
  }

  @Test
  void aFileThatIsNoDatabaseIsSaid() throws IOException {
    Files.write(
        folder.resolve("milewarden.db"),
        "this is no database ".repeat(50).getBytes(StandardCharsets.UTF_8));
    assertThatThrownBy(this::sqlite)
        .isInstanceOf(StoreUnavailable.class)
        .hasMessageContaining("is damaged");
  }

  @Test
  void aStoreOfANewerVersionIsLeftAlone() throws SQLException {
    sqlite().close();
    try (Connection connection =
            DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("milewarden.db"));
        Statement statement = connection.createStatement()) {
      statement.execute(
          "insert into flyway_schema_history (installed_rank, version, description, type, script,"
              + " checksum, installed_by, execution_time, success) values"
              + " (99, '99', 'later', 'SQL', 'V99__later.sql', 1, '', 1, 1)");
    }
    assertThatThrownBy(this::sqlite)
        .isInstanceOf(StoreUnavailable.class)
        .hasMessageContaining("another version of Milewarden");
  }

  @Test
  void aPostgresThatIsNotThereIsSaidWithoutThePassword() {
    StoreSettings nowhere =
        new StoreSettings(
            folder,
            Optional.of("jdbc:postgresql://127.0.0.1:1/none?connectTimeout=1"),
            Optional.of("me"),
            Optional.of("secret-word"));
    assertThatThrownBy(() -> Database.open(nowhere, () -> NOW))
        .isInstanceOf(StoreUnavailable.class)
        .hasMessageContaining("can't be opened")
        .hasMessageContaining("127.0.0.1:1/none")
        .hasMessageNotContaining("secret-word");
    assertThat(nowhere.toString()).doesNotContain("secret-word");
  }

  @Test
  void aDataFolderHasOneWriter() {
    try (FolderLock first = FolderLock.take(folder)) {
      assertThat(first).isNotNull();
      assertThatThrownBy(() -> FolderLock.take(folder))
          .isInstanceOf(StoreUnavailable.class)
          .hasMessageContaining("is in use")
          .hasMessageContaining(folder.toString());
    }
    FolderLock.take(folder).close();
  }
}
