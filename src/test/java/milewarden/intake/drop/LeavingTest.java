package milewarden.intake.drop;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import milewarden.intake.drop.DropFolder.Seen;
import milewarden.store.file.ReceivedFiles.State;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A file that is no longer the stored one never leaves the inbox. */
final class LeavingTest {
  @TempDir Path data;
  private final List<Trouble> troubles = new ArrayList<>();

  private Leaving leaving(DropFolder inbox) {
    return new Leaving(inbox, data.resolve("done"), data.resolve("refused"));
  }

  private Seen seen(DropFolder inbox) throws IOException {
    return inbox.look().files().get(0);
  }

  @Test
  void theStoredFileGoes() throws IOException {
    DropFolder inbox = new DropFolder(data.resolve("inbox"));
    inbox.look();
    Path file = Files.writeString(data.resolve("inbox/run.gpx"), "first");
    assertThat(leaving(inbox).move(seen(inbox), State.MEASURED, troubles)).isTrue();
    assertThat(file).doesNotExist();
    assertThat(data.resolve("done/run.gpx")).hasContent("first");
  }

  @Test
  void oneThatWasReplacedSinceItWasSeenStays() throws IOException {
    DropFolder inbox = new DropFolder(data.resolve("inbox"));
    inbox.look();
    Path file = Files.writeString(data.resolve("inbox/run.gpx"), "first");
    Seen seen = seen(inbox);
    Files.delete(file);
    Files.writeString(file, "the second, which nobody has read");
    leaving(inbox).move(seen, State.MEASURED, troubles);
    assertThat(file).hasContent("the second, which nobody has read");
    assertThat(data.resolve("done")).isEmptyDirectory();
    assertThat(troubles).isEmpty();
  }
}
