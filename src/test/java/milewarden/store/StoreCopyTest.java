package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A copy of the store is whole, or it is refused. */
final class StoreCopyTest {
  private static final InstantSource CLOCK =
      InstantSource.fixed(Instant.parse("2026-05-01T00:00:00Z"));

  @TempDir Path folder;

  @Test
  void aCopyTakenBeneathAnOpenTransactionHoldsWhatWasCommittedAndNothingElse() throws Exception {
    Contents.Packed kept = Contents.pack("kept".getBytes(StandardCharsets.UTF_8));
    Contents.Packed late = Contents.pack("late".getBytes(StandardCharsets.UTF_8));
    Path copy = folder.resolve("copy.db");
    try (Database database = Database.open(StoreSettings.in(folder.resolve("lab")), CLOCK)) {
      database.change(tx -> Contents.put(tx, kept));
      database.change(
          tx -> {
            Contents.put(tx, late);
            assertThat(StoreCopy.make(StoreSettings.in(folder.resolve("lab")), copy)).isEmpty();
          });
    }
    StoreSettings other = StoreSettings.in(folder.resolve("other"));
    assertThat(StoreCopy.putBack(copy, other)).isEmpty();
    try (Database database = Database.open(other, CLOCK)) {
      byte[] back = database.read(tx -> Contents.bytes(tx, kept.sha256())).orElseThrow();
      assertThat(back).isEqualTo("kept".getBytes(StandardCharsets.UTF_8));
      boolean lateIsThere = database.read(tx -> Contents.bytes(tx, late.sha256())).isPresent();
      assertThat(lateIsThere).isFalse();
    }
    assertThat(StoreCopy.putBack(copy, other).orElseThrow()).contains("not empty");
    assertThat(StoreCopy.make(other, copy).orElseThrow()).contains("exists already");

    byte[] bytes = Files.readAllBytes(copy);
    bytes[bytes.length / 2] ^= 1;
    Files.write(copy, bytes);
    StoreSettings third = StoreSettings.in(folder.resolve("third"));
    assertThat(StoreCopy.putBack(copy, third).orElseThrow()).contains("check sum");
    assertThat(third.data()).isEmptyDirectory();
  }
}
