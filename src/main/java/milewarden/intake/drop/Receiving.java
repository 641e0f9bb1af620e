package milewarden.intake.drop;

import java.io.IOException;
import java.io.InputStream;
import java.io.InterruptedIOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.attribute.BasicFileAttributes;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import milewarden.format.fixes.ReadLimits;
import milewarden.intake.drop.DropFolder.Seen;
import milewarden.intake.tag.FolderTags;
import milewarden.intake.tag.TagWords;
import milewarden.store.Database;
import milewarden.store.Id.BatchId;
import milewarden.store.Id.FileId;
import milewarden.store.Tx;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.Contents.Packed;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.file.SheetRows;
import milewarden.store.file.Tags;
import milewarden.track.TagSource;

/** Brings the bytes of files into the store, several in one transaction. */
public final class Receiving {
  // One commit to disk costs about as much as measuring a recording: many files share it.
  private static final int MOST_FILES = 64;
  private static final long MOST_BYTES = 32L << 20;
  // Our own choice: enough for each processor, few enough for the memory.
  private static final int SIDE_BY_SIDE = 2 * Runtime.getRuntime().availableProcessors();

  /**
   * What a reader refuses in any case; what is larger is refused by its size alone, and only its
   * name is remembered.
   */
  static final long LARGEST_BYTES = ReadLimits.DEFAULT.bytes();

  private final Database database;

  private final long largestBytes;

  Receiving(Database database) {
    this(database, LARGEST_BYTES);
  }

  /**
   * @param largestBytes beyond them only a file's name is remembered
   */
  Receiving(Database database, long largestBytes) {
    this.database = database;
    this.largestBytes = largestBytes;
  }

  /** A file whose bytes are in the store; a zip as the files that it held. */
  record Stored(Seen seen, List<FileId> ids) {
    Stored {
      ids = List.copyOf(ids);
    }
  }

  /**
   * Stores files that stood still, in their order; those that vanished, moved on or can't be read
   * stay out.
   *
   * @param troubles takes what can't be read
   * @param stopping asked after every commit: what comes after it stays out
   */
  List<Stored> store(List<Seen> files, List<Trouble> troubles, BooleanSupplier stopping) {
    try (Batch batch = new Batch()) {
      boolean stopped = false;
      for (int from = 0; from < files.size() && !stopped; from += SIDE_BY_SIDE) {
        List<Seen> some = files.subList(from, Math.min(files.size(), from + SIDE_BY_SIDE));
        for (Opened opened : OneByOne.map(some, s -> open(s, stopping)))
          try (opened) {
            stopped |= batch.isEmpty() && stopping.getAsBoolean();
            if (!stopped) take(opened, batch, troubles);
          }
      }
      batch.commit();
      return batch.stored();
    }
  }

  /**
   * A file as it was found: one in memory is hashed and deflated, beside others.
   *
   * @param why it can't be read, where there is no file
   */
  private record Opened(Seen seen, Optional<Dropped> file, Optional<IOException> why)
      implements AutoCloseable {
    Dropped orThrow() throws IOException {
      if (file.isPresent()) return file.get();
      throw why.orElseThrow();
    }

    @Override
    public void close() {
      file.ifPresent(Dropped::close);
    }
  }

  private Opened open(Seen seen, BooleanSupplier stopping) {
    try {
      Dropped file = Dropped.of(seen.file(), seen.sizeBytes(), stopping);
      if (seen.sizeBytes() <= largestBytes) file.packBeforehand(database);
      return new Opened(seen, Optional.of(file), Optional.empty());
    } catch (IOException e) {
      return new Opened(seen, Optional.empty(), Optional.of(e));
    }
  }

  private void take(Opened opened, Batch batch, List<Trouble> troubles) {
    Seen seen = opened.seen();
    String path = seen.path();
    try {
      Dropped file = opened.orThrow();
      if (seen.sizeBytes() > largestBytes) {
        batch.addName(seen, hash(file));
        return;
      }
      Unpacking.each(
          path,
          file,
          database,
          part -> {
            if (hasMoved(seen)) {
              part.bytes().close();
              throw new NoSuchFileException(path);
            }
            batch.add(seen, part);
          });
    } catch (NoSuchFileException | InterruptedIOException e) {
      batch.forget(seen);
    } catch (IOException | UncheckedIOException e) {
      batch.forget(seen);
      troubles.add(new Trouble(path, DropWords.unreadable(path, e.toString())));
    }
  }

  // Somebody began to write to it again: it hasn't stood still after all.
  private static boolean hasMoved(Seen seen) throws IOException {
    BasicFileAttributes now =
        Files.readAttributes(seen.file(), BasicFileAttributes.class, LinkOption.NOFOLLOW_LINKS);
    return !now.isRegularFile()
        || now.size() != seen.sizeBytes()
        || now.lastModifiedTime().toMillis() != seen.changedMs();
  }

  private static String hash(Dropped file) throws IOException {
    MessageDigest digest = Contents.digest();
    try (InputStream in = new DigestInputStream(file.open(), digest)) {
      byte[] away = new byte[1 << 16];
      while (in.read(away) >= 0) continue;
    }
    return HexFormat.of().formatHex(digest.digest());
  }

  /** Files on their way into the store; committed whenever they are many. */
  private final class Batch implements AutoCloseable {
    private final Map<Seen, List<FileId>> stored = new LinkedHashMap<>();
    private final List<Waiting> waiting = new ArrayList<>();
    private long bytes;

    /** Without bytes where they are too many to be kept. */
    private record Waiting(Seen seen, String path, String sha256, Optional<Packed> bytes) {
      void close() {
        bytes.ifPresent(Packed::close);
      }
    }

    void add(Seen seen, Unpacking.Part part) {
      Packed packed = part.bytes();
      waiting.add(new Waiting(seen, part.path(), packed.sha256(), Optional.of(packed)));
      bytes += packed.sizeBytes();
      if (waiting.size() >= MOST_FILES || bytes >= MOST_BYTES) commit();
    }

    boolean isEmpty() {
      return waiting.isEmpty();
    }

    void addName(Seen seen, String sha256) {
      waiting.add(new Waiting(seen, seen.path(), sha256, Optional.empty()));
    }

    /** It is taken in again when it stands still: what of it is stored already is found then. */
    void forget(Seen seen) {
      waiting.stream().filter(w -> w.seen().equals(seen)).forEach(Waiting::close);
      waiting.removeIf(w -> w.seen().equals(seen));
      stored.remove(seen);
    }

    void commit() {
      if (waiting.isEmpty()) return;
      List<FileId> ids = database.write(this::put);
      for (int i = 0; i < ids.size(); i++)
        stored.computeIfAbsent(waiting.get(i).seen(), s -> new ArrayList<>()).add(ids.get(i));
      close();
    }

    // Nearly always all bytes are new: one question and one statement tell and keep them, and a
    // row for each is left. What came before, or twice now, goes the long way.
    private List<FileId> put(Tx tx) {
      BatchId in = Batches.current(tx);
      Set<String> known =
          ReceivedFiles.cameBefore(tx, waiting.stream().map(Waiting::sha256).distinct().toList());
      List<Boolean> fresh = waiting.stream().map(w -> known.add(w.sha256())).toList();
      List<Packed> all = new ArrayList<>();
      for (int i = 0; i < fresh.size(); i++)
        if (fresh.get(i)) waiting.get(i).bytes().ifPresent(all::add);
      Contents.put(tx, all);
      List<FileId> ids = new ArrayList<>();
      for (int i = 0; i < fresh.size(); i++) ids.add(put(tx, in, waiting.get(i), fresh.get(i)));
      return ids;
    }

    private FileId put(Tx tx, BatchId in, Waiting w, boolean fresh) {
      if (w.bytes().isEmpty()) Contents.putName(tx, w.sha256(), w.seen().sizeBytes());
      return fresh
          ? ReceivedFiles.receive(tx, in, w.path(), w.sha256(), DroppedName.kind(w.path()))
          : receive(tx, in, w.path(), w.sha256());
    }

    List<Stored> stored() {
      return stored.entrySet().stream().map(e -> new Stored(e.getKey(), e.getValue())).toList();
    }

    @Override
    public void close() {
      waiting.forEach(Waiting::close);
      waiting.clear();
      bytes = 0;
    }
  }

  /** The row of these bytes at this path: that of a file not yet moved away, or a new one. */
  public static FileId receive(Tx tx, BatchId in, String path, Packed bytes) {
    Contents.put(tx, bytes);
    return receive(tx, in, path, bytes.sha256());
  }

  private static FileId receive(Tx tx, BatchId in, String path, String sha256) {
    List<Received> same = ReceivedFiles.same(tx, sha256, path);
    for (Received known : same)
      if (known.path().equals(path) && !known.leftInbox()) return known.id();
    Kind kind = DroppedName.kind(path);
    Optional<Received> first =
        kind != Kind.TRACK
            ? sameSheet(tx, path, sha256)
            : same.stream().filter(s -> s.state() != State.DUPLICATE).findFirst();
    if (first.isEmpty()) return ReceivedFiles.receive(tx, in, path, sha256, kind);
    // What was refused may be read or placed by now: worth another try.
    if (first.get().state() == State.REFUSED) FileQueue.again(tx, first.get().id());
    FileId copy = ReceivedFiles.duplicate(tx, in, path, sha256, kind, first.get().id());
    TagWords offered = FolderTags.proposed(path);
    Tags.put(tx, copy, Tags.WHOLE, TagSource.FOLDER, offered.values(), offered.origin());
    // A sheet that came before it may have been waiting for just this copy to know what it means.
    if (kind == Kind.TRACK && !SheetRows.atPath(tx, path).isEmpty())
      FileQueue.again(tx, first.get().id());
    return copy;
  }

  // A sheet speaks for its folder, and may go back to what it said before: a copy is only what says
  // the same as the newest one in its place.
  private static Optional<Received> sameSheet(Tx tx, String path, String sha256) {
    List<Received> sheets = ReceivedFiles.atPath(tx, path);
    if (sheets.isEmpty()) return Optional.empty();
    Received newest = sheets.get(sheets.size() - 1);
    return Optional.of(newest).filter(s -> s.sha256().equals(sha256));
  }
}
