package milewarden.intake.drop;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.List;
import milewarden.intake.drop.DropFolder.Seen;
import milewarden.store.file.ReceivedFiles.State;

/**
 * Moves files out of the inbox once their fate is known. Nothing is deleted, nothing overwritten: a
 * name that is taken gets a number.
 */
final class Leaving {
  // FAT keeps the times of files to 2 s, and `done` may lie on another file system than the inbox.
  private static final long COARSEST_TIME_MS = 2000;

  private final DropFolder inbox;
  private final Path done;
  private final Path refused;

  Leaving(DropFolder inbox, Path done, Path refused) {
    this.inbox = inbox;
    this.done = done;
    this.refused = refused;
  }

  /**
   * Moves a file whose bytes are stored. One that was written to or replaced since it was seen goes
   * back: it is another file, and is taken in as such.
   *
   * @return true where the stored file lies no longer in the inbox
   */
  boolean move(Seen seen, State state, List<Trouble> troubles) {
    Path file = seen.file();
    Path to = state == State.REFUSED ? refused : done;
    Path target = to.resolve(inbox.root().relativize(file));
    try {
      Path parent = target.getParent();
      if (parent != null) Files.createDirectories(parent);
      Path moved = moveBeside(file, target);
      if (!isAsSeen(moved, seen)) moveBeside(moved, file);
      return true;
    } catch (NoSuchFileException e) {
      return Files.notExists(file, LinkOption.NOFOLLOW_LINKS);
    } catch (IOException e) {
      String path = inbox.pathOf(file);
      troubles.add(new Trouble(path, DropWords.unmovable(path, e.toString())));
      return false;
    }
  }

  // Only a look after the move leaves no moment in which a file could be replaced unseen.
  private static boolean isAsSeen(Path moved, Seen seen) throws IOException {
    BasicFileAttributes now =
        Files.readAttributes(moved, BasicFileAttributes.class, LinkOption.NOFOLLOW_LINKS);
    long laterMs = Math.abs(now.lastModifiedTime().toMillis() - seen.changedMs());
    return now.size() == seen.sizeBytes() && laterMs < COARSEST_TIME_MS;
  }

  private static Path moveBeside(Path file, Path target) throws IOException {
    Path free = target;
    for (int i = 2; ; i++) {
      if (Files.notExists(free, LinkOption.NOFOLLOW_LINKS)) {
        try {
          // Without REPLACE_EXISTING: a file that came in between is never overwritten.
          return Files.move(file, free);
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
    return target.resolveSibling(DroppedName.shown(stem) + " (" + i + ")" + ending);
  }
}
