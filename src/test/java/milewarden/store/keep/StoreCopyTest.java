package milewarden.store.keep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.StoreUnavailable;
import milewarden.store.file.Contents;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A copy of the store is whole, or it is refused. */
final class StoreCopyTest {
  private static final InstantSource CLOCK =
      InstantSource.fixed(Instant.parse("2026-05-01T00:00:00Z"));

  @TempDir Path folder;

  private static final StoreCopy.Beside NOTHING =
      new StoreCopy.Beside(Path.of("no such folder"), Optional.empty());

  @Test
  void aCopyTakenBeneathAnOpenTransactionHoldsWhatWasCommittedAndNothingElse() throws Exception {
    Contents.Packed kept = Contents.pack("kept".getBytes(StandardCharsets.UTF_8));
    Contents.Packed late = Contents.pack("late".getBytes(StandardCharsets.UTF_8));
    Path copy = folder.resolve("copy.zip");
    StoreSettings lab = StoreSettings.in(folder.resolve("lab"));
    try (Database database = Database.open(lab, CLOCK)) {
      database.change(tx -> Contents.put(tx, kept));
      database.change(
          tx -> {
            Contents.put(tx, late);
            assertThat(StoreCopy.make(lab, NOTHING, copy, CLOCK)).isEmpty();
          });
    }
    StoreSettings other = StoreSettings.in(folder.resolve("other"));
    assertThat(StoreCopy.putBack(copy, other, CLOCK)).isEmpty();
    for (Path secret : List.of(lab.file(), copy, other.file())) isNotForEverybody(secret);
    holds(other, kept, true);
    holds(other, late, false);
    assertThat(StoreCopy.putBack(copy, other, CLOCK).orElseThrow()).contains("not empty");
    assertThat(StoreCopy.make(other, NOTHING, copy, CLOCK).orElseThrow())
        .contains("exists already");
  }

  @Test
  void aFolderThatIsNotThereIsSaidAndTheStoreIsNotBlamed() {
    StoreSettings lab = StoreSettings.in(folder.resolve("lab"));
    Database.open(lab, CLOCK).close();
    assertThatThrownBy(() -> StoreCopy.make(lab, NOTHING, folder.resolve("none/copy.zip"), CLOCK))
        .isInstanceOf(StoreUnavailable.class)
        .hasMessageContaining("copy.zip can't be written")
        .hasMessageContaining("its folder is there")
        .hasMessageNotContaining("password");
  }

  // They hold the hashes of passphrases.
  private static void isNotForEverybody(Path file) throws IOException {
    if (!file.getFileSystem().supportedFileAttributeViews().contains("posix")) return;
    assertThat(Files.getPosixFilePermissions(file))
        .as(file.toString())
        .contains(PosixFilePermission.OWNER_READ, PosixFilePermission.OWNER_WRITE)
        .doesNotContain(PosixFilePermission.OTHERS_READ, PosixFilePermission.OTHERS_WRITE);
  }

  private static void holds(StoreSettings store, Contents.Packed packed, boolean expected) {
    try (Database database = Database.open(store, CLOCK)) {
      boolean there = database.read(tx -> Contents.bytes(tx, packed.sha256())).isPresent();
      assertThat(there).isEqualTo(expected);
    }
  }

  /** A zip of a store, the list of its hashes as {@code sha256sum} would check it. */
  private Path zip() throws Exception {
    StoreSettings lab = StoreSettings.in(folder.resolve("lab"));
    Database.open(lab, CLOCK).close();
    Path copy = folder.resolve("copy.zip");
    assertThat(StoreCopy.make(lab, NOTHING, copy, CLOCK)).isEmpty();
    return copy;
  }

  @Test
  void aChangedByteIsNoticedOrChangesNothing() throws Exception {
    Path copy = zip();
    StoreSettings whole = StoreSettings.in(folder.resolve("whole"));
    assertThat(StoreCopy.putBack(copy, whole, CLOCK)).isEmpty();
    byte[] bytes = Files.readAllBytes(copy);
    int noticed = 0;
    for (int at = 0; at < bytes.length; at += 29) {
      byte[] changed = bytes.clone();
      changed[at] ^= 4;
      Files.write(copy, changed);
      StoreSettings into = StoreSettings.in(folder.resolve("into " + at));
      Optional<String> refused = StoreCopy.putBack(copy, into, CLOCK);
      if (refused.isPresent()) {
        noticed++;
        assertThat(refused.get()).contains("is damaged");
        assertThat(into.data()).isEmptyDirectory();
        // A time in a header, or the words for people, say.
      } else assertThat(into.file()).hasSameBinaryContentAs(whole.file());
    }
    assertThat(noticed).isPositive();
    Files.write(copy, java.util.Arrays.copyOf(bytes, bytes.length / 2));
    StoreSettings into = StoreSettings.in(folder.resolve("half"));
    assertThat(StoreCopy.putBack(copy, into, CLOCK).orElseThrow()).contains("is damaged");
  }

  @Test
  void aNameThatLeadsOutOfTheFolderIsRefused() throws Exception {
    Path copy = folder.resolve("evil.zip");
    try (ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(copy))) {
      for (String name : List.of("milewarden.db", "../../escaped", "SHA256SUMS")) {
        out.putNextEntry(new ZipEntry(name));
        String hash = Contents.sha256("x".getBytes(StandardCharsets.UTF_8));
        String list = hash + "  milewarden.db\n" + hash + "  ../../escaped\n";
        out.write((name.equals("SHA256SUMS") ? list : "x").getBytes(StandardCharsets.UTF_8));
      }
    }
    StoreSettings into = StoreSettings.in(folder.resolve("deep/into"));
    assertThat(StoreCopy.putBack(copy, into, CLOCK).orElseThrow()).contains("is damaged");
    assertThat(folder.resolve("deep/escaped")).doesNotExist();
    assertThat(folder.resolve("escaped")).doesNotExist();
  }

  @Test
  void theBareFileOfEarlierBuildsIsPutBackStill() throws Exception {
    Contents.Packed kept = Contents.pack("kept".getBytes(StandardCharsets.UTF_8));
    StoreSettings lab = StoreSettings.in(folder.resolve("lab"));
    try (Database database = Database.open(lab, CLOCK)) {
      database.change(tx -> Contents.put(tx, kept));
    }
    Path copy = Files.copy(lab.file(), folder.resolve("copy.db"));
    StoreSettings other = StoreSettings.in(folder.resolve("other"));
    assertThat(StoreCopy.putBack(copy, other, CLOCK).orElseThrow()).contains("check sum");
    String sum = Contents.sha256(Files.readAllBytes(copy));
    Files.writeString(folder.resolve("copy.db.sha256"), sum + "  copy.db\n");
    assertThat(StoreCopy.putBack(copy, other, CLOCK)).isEmpty();
    holds(other, kept, true);
  }
}
