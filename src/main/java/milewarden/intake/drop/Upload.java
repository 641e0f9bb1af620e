package milewarden.intake.drop;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.intake.tag.TagWords;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.Tx;
import milewarden.store.file.Batches;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.file.Tags;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/**
 * A file that comes through the dashboard or the API: the drop folder's way, without the folder.
 */
public final class Upload {
  private static final int LONGEST_NAME = 120;

  private final Database database;
  private final Runnable wakeMeasuring;

  public Upload(Database database, Runnable wakeMeasuring) {
    this.database = database;
    this.wakeMeasuring = wakeMeasuring;
  }

  /**
   * A file that is in the store.
   *
   * @param duplicate true where the same bytes came before: no second run
   */
  public record Taken(FileId file, boolean duplicate) {}

  /** As {@link #take(String, Bytes, Map)} for bytes in memory. */
  public Taken take(String fileName, byte[] bytes, Map<TagName, String> tags) {
    return take(fileName, () -> new ByteArrayInputStream(bytes), tags);
  }

  /**
   * Takes a file in, and has it measured. Of a zip each file is taken, and the answer is about the
   * last of its recordings.
   *
   * @param fileName as the sender calls it; its folders are left out
   * @param tags what the sender says of it, taken as an edit
   * @throws UncheckedIOException where the bytes can't be read, or there is no room for them
   */
  public Taken take(String fileName, Bytes bytes, Map<TagName, String> tags) {
    List<Unpacking.Part> parts = new ArrayList<>();
    Taken taken;
    try {
      Unpacking.each(safeName(fileName), Dropped.of(bytes::open), database, parts::add);
      taken = store(parts, tags);
    } catch (IOException e) {
      throw new UncheckedIOException("the upload " + fileName, e);
    } finally {
      parts.forEach(p -> p.bytes().close());
    }
    wakeMeasuring.run();
    return taken;
  }

  private Taken store(List<Unpacking.Part> parts, Map<TagName, String> tags) {
    return database.write(
        tx -> {
          FileId last = new FileId(0);
          for (Unpacking.Part part : parts) last = take(tx, part, tags);
          Optional<Received> row = ReceivedFiles.find(tx, last);
          return new Taken(last, row.filter(r -> r.state() == State.DUPLICATE).isPresent());
        });
  }

  private static FileId take(Tx tx, Unpacking.Part part, Map<TagName, String> tags) {
    FileId id = Receiving.receive(tx, Batches.current(tx), part.path(), part.bytes());
    ReceivedFiles.leftInbox(tx, id);
    TagWords words = TagWords.ofWhole(TagSource.EDIT, tags, "upload");
    Tags.put(tx, id, TagWords.WHOLE, TagSource.EDIT, words.values(), words.origin());
    return id;
  }

  /** The name without folders and without what a page or a terminal would obey. */
  static String safeName(String fileName) {
    String slashed = fileName.replace('\\', '/');
    String name = DroppedName.shown(slashed.substring(slashed.lastIndexOf('/') + 1)).strip();
    if (name.isEmpty() || name.equals(".") || name.equals("..")) return "upload";
    return name.length() <= LONGEST_NAME ? name : name.substring(name.length() - LONGEST_NAME);
  }
}
