package milewarden.intake;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import milewarden.intake.tag.ClaimTags;
import milewarden.intake.tag.FolderTags;
import milewarden.intake.tag.KnownDevices;
import milewarden.intake.tag.TagWords;
import milewarden.store.Contents;
import milewarden.store.ReceivedFiles;
import milewarden.store.ReceivedFiles.Received;
import milewarden.store.Runs;
import milewarden.store.SheetRows;
import milewarden.store.Tags;
import milewarden.store.Tx;
import milewarden.track.TagSource;
import milewarden.track.Track;

/**
 * A received track with all that people said of it, read from the store in one transaction.
 *
 * @param edits what the tester or a file of tags said
 * @param rows of field sheets that name its path
 * @param alone true where no other track ever came by its path
 * @param counts true where it is a run already
 */
record Recording(
    Received file,
    byte[] bytes,
    List<TagWords> edits,
    List<SheetRows.SheetRow> rows,
    boolean alone,
    boolean counts) {

  static Recording load(Tx tx, Received file) {
    byte[] bytes =
        Contents.bytes(tx, file.sha256())
            .orElseThrow(() -> new IllegalStateException("no bytes of " + file.sha256()));
    return new Recording(
        file,
        bytes,
        edits(tx, file),
        SheetRows.atPath(tx, file.path()),
        ReceivedFiles.atPath(tx, file.path()).size() <= 1,
        Runs.findOfFile(tx, file.id()).isPresent());
  }

  private static List<TagWords> edits(Tx tx, Received file) {
    List<TagWords> words = new ArrayList<>();
    for (Tags.Tag tag : Tags.of(tx, file.id()))
      if (tag.source() == TagSource.EDIT)
        words.add(
            new TagWords(
                tag.pass(), tag.source(), java.util.Map.of(tag.name(), tag.value()), tag.origin()));
    words.addAll(Sidecars.words(tx, file));
    return words;
  }

  /** True where somebody has said something else since: what was computed is out of date. */
  boolean isStale(Tx tx) {
    return !edits(tx, file).equals(edits) || !SheetRows.atPath(tx, file.path()).equals(rows);
  }

  /** Every source's words but those of the positions. */
  List<TagWords> words(Track track, KnownDevices known, InboxSettings settings, ZoneId zone) {
    List<TagWords> words = new ArrayList<>(edits);
    words.addAll(
        SheetWords.of(rows, track.startedAt().map(at -> at.atZone(zone).toLocalDate()), alone));
    words.add(FolderTags.of(file.path(), known));
    words.add(ClaimTags.of(track.claim(), known));
    words.add(TagWords.ofWhole(TagSource.DEFAULT, settings.defaults(), "milewarden.yaml"));
    return words;
  }
}
