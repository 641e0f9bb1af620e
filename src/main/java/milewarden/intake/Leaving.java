package milewarden.intake;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import milewarden.store.ReceivedFiles.State;

/**
 * Moves files out of the inbox once their fate is known. Nothing is deleted, nothing overwritten: a
 * name that is taken gets a number.
 */
final class Leaving {
  private final DropFolder inbox;
  private final Path done;
  private final Path refused;

  Leaving(DropFolder inbox, Path done, Path refused) {
    this.inbox = inbox;
    this.done = done;
    this.refused = refused;
  }

  /**
   * @return true where the file lies no longer in the inbox
   */
  boolean move(Path file, State state, List<Trouble> troubles) {
    Path to = state == State.REFUSED ? refused : done;
    Path target = to.resolve(inbox.root().relativize(file));
    try {
      Path parent = target.getParent();
      if (parent != null) Files.createDirectories(parent);
      moveBeside(file, target);
      return true;
    } catch (NoSuchFileException e) {
      return Files.notExists(file, LinkOption.NOFOLLOW_LINKS);
    } catch (IOException e) {
      String path = inbox.pathOf(file);
      troubles.add(new Trouble(path, IntakeWords.unmovable(path, e.toString())));
      return false;
    }
  }

  private static void moveBeside(Path file, Path target) throws IOException {
    Path free = target;
    for (int i = 2; ; i++) {
      if (Files.notExists(free, LinkOption.NOFOLLOW_LINKS)) {
        try {
          // Without REPLACE_EXISTING: a file that came in between is never overwritten.
          Files.move(file, free);
          return;
        } catch (FileAlreadyExistsException e) {
          // Taken in this very moment: the next number, then.
        }
      }
      free = numbered(target, i);
    }
  }

  private static Path numbered(Path target, int i) {
    String name = String.valueOf(target.getFileName());
    int dot = name.lastIndexOf('.');
    String stem = dot > 0 ? name.substring(0, dot) : name;
    String ending = dot > 0 ? name.substring(dot) : "";
    return target.resolveSibling(DropFolder.shown(stem) + " (" + i + ")" + ending);
  }
}
