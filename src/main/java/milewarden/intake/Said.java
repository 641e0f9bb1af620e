package milewarden.intake;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.intake.drop.DroppedName;
import milewarden.store.Id.FileId;
import milewarden.store.Tx;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.SheetRows;
import milewarden.store.file.Tags;
import milewarden.store.run.Runs;

/**
 * What the store knows of several files at one moment: asked for all of them at once, because each
 * question costs more than its answer.
 */
record Said(
    Map<FileId, List<Tags.Tag>> tags,
    Map<String, List<Received>> atPaths,
    Map<String, List<SheetRows.SheetRow>> rows,
    Map<FileId, Runs.Run> runs) {

  static Said of(Tx tx, List<Received> files) {
    List<FileId> ids = files.stream().map(Received::id).toList();
    List<String> paths = files.stream().map(Received::path).distinct().toList();
    List<String> beside = new ArrayList<>(paths);
    for (String path : paths) beside.add(path + DroppedName.SIDECAR);
    return new Said(
        Tags.of(tx, ids),
        ReceivedFiles.atPaths(tx, beside),
        rows(tx, files, paths),
        Runs.ofFiles(tx, ids));
  }

  /**
   * The rows of each path. A row may name a copy, in a folder that was dropped twice: it means the
   * recording, which is kept by its first path.
   */
  private static Map<String, List<SheetRows.SheetRow>> rows(
      Tx tx, List<Received> files, List<String> paths) {
    Map<String, List<SheetRows.SheetRow>> rows = new HashMap<>(SheetRows.atPaths(tx, paths));
    List<Received> unnamed = files.stream().filter(f -> !rows.containsKey(f.path())).toList();
    Map<String, List<String>> copies =
        ReceivedFiles.copies(tx, unnamed.stream().map(Received::sha256).distinct().toList());
    if (copies.isEmpty()) return rows;
    List<String> copied = copies.values().stream().flatMap(List::stream).distinct().toList();
    Map<String, List<SheetRows.SheetRow>> there = new HashMap<>(SheetRows.atPaths(tx, copied));
    // Where another recording came by that path since, the row is about that one.
    there.keySet().removeAll(ReceivedFiles.atPaths(tx, List.copyOf(there.keySet())).keySet());
    for (Received file : unnamed)
      for (String copy : copies.getOrDefault(file.sha256(), List.of()))
        if (there.containsKey(copy)) rows.put(file.path(), there.get(copy));
    return rows;
  }

  List<Tags.Tag> tags(Received file) {
    return tags.getOrDefault(file.id(), List.of());
  }

  /** What came by the path of a file, duplicates left out. */
  List<Received> atPath(Received file) {
    return atPaths.getOrDefault(file.path(), List.of());
  }

  /** What came by the path of its file of tags. */
  List<Received> beside(Received file) {
    return atPaths.getOrDefault(file.path() + DroppedName.SIDECAR, List.of());
  }

  /** The rows of field sheets that name its path, or that of a copy of it. */
  List<SheetRows.SheetRow> rows(Received file) {
    return rows.getOrDefault(file.path(), List.of());
  }

  Optional<Runs.Run> run(Received file) {
    return Optional.ofNullable(runs.get(file.id()));
  }
}
