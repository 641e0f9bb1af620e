package milewarden.intake.drop;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Stream;
import milewarden.intake.InboxSettings;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.Contents;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.keep.StoreCheck;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Somebody replaces files by others and takes them away in the very moments in which they are read
 * and moved.
 */
final class RestlessInboxTest {
  private static final int CHANGES = 250;
  private static final int NAMES = 6;

  @TempDir Path data;
  private Instant now = Instant.parse("2026-05-12T07:00:00Z");
  // What lay there at any time, whole, and what lies under each name in the end.
  private final Set<String> written = new HashSet<>();
  private final Map<String, String> last = new HashMap<>();

  private void restless(long seed) {
    Random random = new Random(seed);
    try {
      Path beside = data.resolve("arriving");
      for (int i = 0; i < CHANGES; i++) {
        String name = "run " + random.nextInt(NAMES) + ".gpx";
        Path file = data.resolve("inbox").resolve(name);
        if (random.nextInt(4) == 0) {
          // Where the inbox was quicker, it was taken in, and stays.
          if (Files.deleteIfExists(file)) last.remove(name);
        } else {
          String text = ("version " + i + " ").repeat(1 + random.nextInt(20_000));
          Files.writeString(beside, text);
          synchronized (written) {
            written.add(text);
          }
          // In one step: without, the JDK removes what lies there first, and the inbox may be
          // quicker.
          Files.move(beside, file, StandardCopyOption.ATOMIC_MOVE);
          last.put(name, text);
        }
        Thread.sleep(random.nextInt(12));
      }
    } catch (IOException | InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2})
  void everyFileIsTakenWholeAndTheLastOfEachNameIsThere(long seed) throws Exception {
    Files.createDirectories(data.resolve("inbox"));
    try (Database database = Database.open(StoreSettings.in(data), () -> now)) {
      Inbox inbox =
          new Inbox(data, InboxSettings.DEFAULTS.standStill(), database, () -> now, () -> {});
      CompletableFuture<Void> somebody = CompletableFuture.runAsync(() -> restless(seed));
      while (!somebody.isDone()) round(database, inbox);
      somebody.join();
      for (int i = 0; i < 6; i++) round(database, inbox);
      assertThat(inbox.troubles()).isEmpty();

      Set<String> stored = new HashSet<>();
      for (Received row : rows(database)) {
        byte[] bytes = database.read(tx -> Contents.bytes(tx, row.sha256())).orElseThrow();
        stored.add(new String(bytes, StandardCharsets.UTF_8));
      }
      assertThat(written.containsAll(stored)).as("all are whole, seed " + seed).isTrue();
      assertThat(stored.containsAll(last.values())).as("the last ones, seed " + seed).isTrue();
      assertThat(files("inbox")).isEmpty();
      // Each file that was moved away is one that is stored.
      for (Path moved : files("refused"))
        assertThat(stored.contains(Files.readString(moved))).isTrue();
    }
    assertThat(StoreCheck.check(StoreSettings.in(data), () -> now).findings()).isEmpty();
  }

  private void round(Database database, Inbox inbox) {
    now = now.plus(Duration.ofSeconds(2));
    inbox.sweep();
    for (Received row : rows(database))
      if (row.state() == State.RECEIVED)
        database.change(
            tx -> FileQueue.refused(tx, row.id(), new Reason("not-a-track", "", "No track.")));
  }

  private static List<Received> rows(Database database) {
    return database.read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 100_000));
  }

  private List<Path> files(String name) throws IOException {
    Path root = data.resolve(name);
    if (Files.notExists(root)) return List.of();
    try (Stream<Path> all = Files.walk(root)) {
      return all.filter(Files::isRegularFile).toList();
    }
  }
}
