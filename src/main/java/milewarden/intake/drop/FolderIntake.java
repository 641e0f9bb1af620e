package milewarden.intake.drop;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import milewarden.intake.drop.DropFolder.Look;
import milewarden.intake.drop.DropFolder.Seen;
import milewarden.intake.drop.Receiving.Stored;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.file.Batches;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;

/**
 * Takes a whole folder in once, as if it had been dropped into the inbox. The folder itself stays
 * as it is: its bytes are copied into the store, and what came before is a duplicate.
 */
public final class FolderIntake {
  private final Database database;
  private final Runnable measuring;
  private final Duration standStill;
  private final Consumer<Duration> pause;

  /**
   * @param measuring works off what came in
   * @param pause waits so long: files that somebody still writes to are not taken
   */
  public FolderIntake(
      Database database, Runnable measuring, Duration standStill, Consumer<Duration> pause) {
    this.database = database;
    this.measuring = measuring;
    this.standStill = standStill;
    this.pause = pause;
  }

  /** What became of the files, in their order, and what could not be taken. */
  public record Taken(List<Received> files, List<Trouble> troubles) {
    public Taken {
      files = List.copyOf(files);
      troubles = List.copyOf(troubles);
    }
  }

  /** Takes the folder in and measures what it holds. */
  public Taken take(Path folder) {
    DropFolder drop = new DropFolder(folder);
    List<Trouble> troubles = new ArrayList<>();
    List<Seen> still = new ArrayList<>(look(drop).files());
    pause.accept(standStill);
    Look now = look(drop);
    troubles.addAll(now.troubles());
    for (Seen seen : now.files())
      if (!still.contains(seen))
        troubles.add(new Trouble(seen.path(), DropWords.growing(seen.path())));
    still.retainAll(now.files());
    List<FileId> ids = new ArrayList<>();
    for (Stored s : new Receiving(database).store(SheetsFirst.of(still), troubles, () -> false))
      ids.addAll(s.ids());
    database.change(
        tx -> {
          // It never lay in the inbox, so it has nothing to leave.
          ReceivedFiles.leftInbox(tx, ids);
          Batches.close(tx);
        });
    measuring.run();
    List<Received> files =
        database.read(tx -> ids.stream().flatMap(i -> ReceivedFiles.find(tx, i).stream()).toList());
    return new Taken(files, troubles);
  }

  private static Look look(DropFolder drop) {
    try {
      return drop.look();
    } catch (IOException e) {
      throw new UncheckedIOException("the folder " + drop.root() + " can't be read", e);
    }
  }
}
