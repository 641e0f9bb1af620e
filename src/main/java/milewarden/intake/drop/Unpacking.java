package milewarden.intake.drop;

import java.io.IOException;
import java.io.InputStream;
import java.util.Optional;
import java.util.function.Predicate;
import milewarden.format.pack.Zip;
import milewarden.store.Database;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.track.Issue;

/**
 * What one dropped file holds: itself, or the files of a zip as if they had been unpacked where it
 * lies. A zip of one recording is that recording, and stays as it came.
 */
final class Unpacking {
  /** Of all files of a zip together, unpacked: our own bound, four recordings of the largest. */
  private static final long MOST_BYTES = 4 * Receiving.LARGEST_BYTES;

  private final String path;
  private final Dropped file;
  private final Database database;
  private boolean any;

  private Unpacking(String path, Dropped file, Database database) {
    this.path = path;
    this.file = file;
    this.database = database;
  }

  /**
   * One file to be kept.
   *
   * @param path from the inbox on, with slashes
   * @param bytes to be closed when they are stored
   */
  record Part(String path, Contents.Packed bytes) {}

  /** Takes the parts, one after the other. */
  @FunctionalInterface
  interface Taker {
    void take(Part part) throws IOException;
  }

  /**
   * Hands out at least one part; what speaks for others comes first.
   *
   * @param database whose folder takes what is too much for the memory
   * @throws IOException where the file can't be read or the spool not be written
   */
  static void each(String path, Dropped file, Database database, Taker taker) throws IOException {
    new Unpacking(path, file, database).each(taker);
  }

  private void each(Taker taker) throws IOException {
    if (!file.isZip() || !holdsSeveral()) {
      taker.take(new Part(path, file.pack(database)));
      return;
    }
    Optional<Issue> broken = files(kind -> kind != Kind.TRACK, taker);
    if (broken.isEmpty()) broken = files(kind -> kind == Kind.TRACK, taker);
    else files(kind -> kind == Kind.TRACK, taker);
    // What could not be unpacked is told where the zip itself is read.
    if (broken.isPresent() || !any) taker.take(new Part(path, file.pack(database)));
  }

  private Optional<Issue> files(Predicate<Kind> wanted, Taker taker) throws IOException {
    String folder = path.substring(0, path.lastIndexOf('/') + 1);
    return entries(
        (name, entry) -> {
          if (!wanted.test(DroppedName.kind(name))) return true;
          any = true;
          taker.take(new Part(folder + name, Contents.pack(entry, database.folder())));
          return true;
        });
  }

  private boolean holdsSeveral() throws IOException {
    boolean[] speaks = new boolean[1];
    entries(
        (name, entry) -> {
          speaks[0] |= DroppedName.kind(name) != Kind.TRACK;
          return !speaks[0];
        });
    return speaks[0] || file.holdsSeveralRecordings();
  }

  private Optional<Issue> entries(Zip.Taker taker) throws IOException {
    try (InputStream in = file.open()) {
      return Zip.each(new byte[0], in, MOST_BYTES, taker);
    }
  }
}
