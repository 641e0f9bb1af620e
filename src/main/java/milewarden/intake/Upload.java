package milewarden.intake;

import java.util.Map;
import java.util.Optional;
import milewarden.intake.tag.TagWords;
import milewarden.store.Batches;
import milewarden.store.Contents;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.ReceivedFiles;
import milewarden.store.ReceivedFiles.Received;
import milewarden.store.ReceivedFiles.State;
import milewarden.store.Tags;
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

  /**
   * Takes a file in, and has it measured.
   *
   * @param fileName as the sender calls it; its folders are left out
   * @param tags what the sender says of it, taken as an edit
   */
  public Taken take(String fileName, byte[] bytes, Map<TagName, String> tags) {
    Contents.Packed packed = Contents.pack(bytes);
    String path = safeName(fileName);
    Taken taken =
        database.write(
            tx -> {
              FileId id = Receiving.receive(tx, Batches.current(tx), path, packed);
              ReceivedFiles.leftInbox(tx, id);
              TagWords words = TagWords.ofWhole(TagSource.EDIT, tags, "upload");
              Tags.put(tx, id, TagWords.WHOLE, TagSource.EDIT, words.values(), words.origin());
              Optional<Received> row = ReceivedFiles.find(tx, id);
              return new Taken(id, row.filter(r -> r.state() == State.DUPLICATE).isPresent());
            });
    wakeMeasuring.run();
    return taken;
  }

  /** The name without folders and without what a page or a terminal would obey. */
  static String safeName(String fileName) {
    String slashed = fileName.replace('\\', '/');
    String name = DropFolder.shown(slashed.substring(slashed.lastIndexOf('/') + 1)).strip();
    if (name.isEmpty() || name.equals(".") || name.equals("..")) return "upload";
    return name.length() <= LONGEST_NAME ? name : name.substring(name.length() - LONGEST_NAME);
  }
}
