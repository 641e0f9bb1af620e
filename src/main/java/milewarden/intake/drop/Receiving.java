package milewarden.intake.drop;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import milewarden.intake.drop.DropFolder.Seen;
import milewarden.intake.tag.FolderTags;
import milewarden.intake.tag.KnownDevices;
import milewarden.intake.tag.TagWords;
import milewarden.store.Database;
import milewarden.store.Id.BatchId;
import milewarden.store.Id.FileId;
import milewarden.store.Tx;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.file.Tags;
import milewarden.track.TagSource;

/** Brings the bytes of files into the store, several in one transaction. */
public final class Receiving {
  // One commit to disk costs about as much as measuring a recording: many files share it.
  private static final int MOST_FILES = 64;
  private static final long MOST_BYTES = 32L << 20;

  // No recording is larger.
  private static final long LARGEST_EVER = 256L << 20;
  // A file lies in the memory as it came, deflated and read: with an eighth, serving goes on
  // beside.
  private static final long LARGEST_HERE = Runtime.getRuntime().maxMemory() / 8;

  /** A larger file is no recording, or would fill the memory that the server was given. */
  static final long LARGEST_BYTES = Math.min(LARGEST_EVER, LARGEST_HERE);

  private final Database database;

  Receiving(Database database) {
    this.database = database;
  }

  /** A file whose bytes are in the store; a zip as the files that it held. */
  record Stored(Seen seen, List<FileId> ids) {
    Stored {
      ids = List.copyOf(ids);
    }
  }

  private record Packed(Seen seen, Unpacking.Part part) {}

  /**
   * Stores files that stood still, in their order; those that vanished, moved on or can't be read
   * stay out.
   *
   * @param troubles takes what can't be read
   * @param stopping asked after every commit: what comes after it stays out
   */
  List<Stored> store(List<Seen> files, List<Trouble> troubles, BooleanSupplier stopping) {
    Map<Seen, List<FileId>> stored = new LinkedHashMap<>();
    List<Packed> batch = new ArrayList<>();
    long bytes = 0;
    for (Seen seen : files) {
      if (batch.isEmpty() && stopping.getAsBoolean()) break;
      for (Packed packed : pack(seen, troubles)) {
        batch.add(packed);
        bytes += packed.part().bytes().sizeBytes();
        if (batch.size() < MOST_FILES && bytes < MOST_BYTES) continue;
        commit(batch, stored);
        batch.clear();
        bytes = 0;
      }
    }
    if (!batch.isEmpty()) commit(batch, stored);
    return stored.entrySet().stream().map(e -> new Stored(e.getKey(), e.getValue())).toList();
  }

  private static List<Packed> pack(Seen seen, List<Trouble> troubles) {
    String path = seen.path();
    if (seen.sizeBytes() > LARGEST_BYTES) {
      troubles.add(new Trouble(path, tooLarge(path)));
      return List.of();
    }
    try {
      byte[] bytes = Files.readAllBytes(seen.file());
      BasicFileAttributes after =
          Files.readAttributes(seen.file(), BasicFileAttributes.class, LinkOption.NOFOLLOW_LINKS);
      // Somebody began to write to it again: it hasn't stood still after all.
      boolean moved =
          !after.isRegularFile()
              || bytes.length != seen.sizeBytes()
              || after.size() != seen.sizeBytes()
              || after.lastModifiedTime().toMillis() != seen.changedMs();
      if (moved) return List.of();
      return Unpacking.of(path, bytes).stream().map(p -> new Packed(seen, p)).toList();
    } catch (NoSuchFileException e) {
      return List.of();
    } catch (IOException e) {
      troubles.add(new Trouble(path, DropWords.unreadable(path, e.toString())));
      return List.of();
    }
  }

  private static String tooLarge(String path) {
    long megabytes = LARGEST_BYTES >> 20;
    return LARGEST_HERE < LARGEST_EVER
        ? DropWords.tooLargeHere(path, megabytes)
        : DropWords.tooLarge(path, megabytes);
  }

  private void commit(List<Packed> batch, Map<Seen, List<FileId>> stored) {
    List<FileId> ids =
        database.write(
            tx -> {
              BatchId in = Batches.current(tx);
              List<FileId> rows = new ArrayList<>();
              for (Packed p : batch) rows.add(receive(tx, in, p.part().path(), p.part().bytes()));
              return rows;
            });
    for (int i = 0; i < ids.size(); i++)
      stored.computeIfAbsent(batch.get(i).seen(), s -> new ArrayList<>()).add(ids.get(i));
  }

  /** The row of these bytes at this path: that of a file not yet moved away, or a new one. */
  public static FileId receive(Tx tx, BatchId in, String path, Contents.Packed bytes) {
    for (Received known : ReceivedFiles.stillInInbox(tx, path))
      if (known.sha256().equals(bytes.sha256())) return known.id();
    Contents.put(tx, bytes);
    Kind kind = DroppedName.kind(path);
    Optional<Received> first =
        kind != Kind.TRACK
            ? sameSheet(tx, path, bytes)
            : ReceivedFiles.withHash(tx, bytes.sha256());
    if (first.isEmpty()) return ReceivedFiles.receive(tx, in, path, bytes.sha256(), kind);
    // What was refused may be read or placed by now: worth another try.
    if (first.get().state() == State.REFUSED) ReceivedFiles.again(tx, first.get().id());
    FileId copy = ReceivedFiles.duplicate(tx, in, path, bytes.sha256(), kind, first.get().id());
    TagWords offered = FolderTags.of(path, new KnownDevices());
    Tags.put(tx, copy, Tags.WHOLE, TagSource.FOLDER, offered.values(), offered.origin());
    return copy;
  }

  // A sheet speaks for its folder, and may go back to what it said before: a copy is only what says
  // the same as the newest one in its place.
  private static Optional<Received> sameSheet(Tx tx, String path, Contents.Packed bytes) {
    List<Received> sheets = ReceivedFiles.atPath(tx, path);
    if (sheets.isEmpty()) return Optional.empty();
    Received newest = sheets.get(sheets.size() - 1);
    return Optional.of(newest).filter(s -> s.sha256().equals(bytes.sha256()));
  }
}
