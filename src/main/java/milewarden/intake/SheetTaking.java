package milewarden.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.format.SessionSheet;
import milewarden.intake.drop.DroppedName;
import milewarden.intake.sheet.RowKeys;
import milewarden.intake.sheet.SheetRemarks;
import milewarden.intake.typed.FarOff;
import milewarden.store.Id.FileId;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.SheetRows;
import milewarden.track.SheetRead;
import milewarden.track.SheetRow;

/**
 * Takes a field sheet: its rows revise those known before, the tracks that they name are measured
 * again, rows without a track become runs.
 */
final class SheetTaking {
  private final RowRuns rowRuns;

  SheetTaking(RowRuns rowRuns) {
    this.rowRuns = rowRuns;
  }

  void take(Tx tx, Received sheet, Known known) {
    byte[] bytes =
        Contents.bytes(tx, sheet.sha256())
            .orElseThrow(() -> new IllegalStateException("no bytes of " + sheet.sha256()));
    SessionSheet.read(bytes)
        .fold(
            usable -> rows(tx, sheet, usable, known),
            refused -> {
              FileQueue.refused(tx, sheet.id(), SheetRemarks.refused(refused.why()));
              return 0;
            });
  }

  private int rows(Tx tx, Received sheet, SheetRead.Usable read, Known known) {
    String folder = folder(sheet.path());
    List<SheetRows.Key> keys = RowKeys.of(read.rows(), folder);
    SheetRemarks remarks = new SheetRemarks(read.problems());
    for (int i = 0; i < read.rows().size(); i++) {
      SheetRow row = read.rows().get(i);
      if (isRevised(tx, keys.get(i), sheet)) continue;
      String path = row.file().map(f -> join(folder, f)).orElse("");
      SheetRows.Taken taken =
          SheetRows.take(
              tx,
              new SheetRows.Words(
                  keys.get(i), sheet.id(), row.row(), path, row.tags(), row.extra()));
      if (taken.changed()) again(tx, taken);
      if (FarOff.is(known.courses(), row)) remarks.farOff(row.row());
      if (path.isEmpty()) remarks.needs(row.row(), rowRuns.keep(tx, taken.row(), sheet, known));
    }
    Optional<Reason> said = remarks.reason();
    if (said.isPresent()) FileQueue.measured(tx, sheet.id(), said.get());
    else FileQueue.measured(tx, sheet.id());
    return read.rows().size();
  }

  // A sheet that is read again, for a new course say, doesn't take back what a later one said.
  private static boolean isRevised(Tx tx, SheetRows.Key key, Received sheet) {
    return SheetRows.find(tx, key)
        .filter(row -> row.words().sheet().value() > sheet.id().value())
        .isPresent();
  }

  // The tracks that the row means now, and those that it meant before.
  private static void again(Tx tx, SheetRows.Taken taken) {
    List<String> paths = new ArrayList<>();
    paths.add(taken.row().words().path());
    taken.before().ifPresent(row -> paths.add(row.words().path()));
    for (String path : paths.stream().distinct().filter(p -> !p.isEmpty()).toList()) {
      List<Received> meant = new ArrayList<>(ReceivedFiles.atPath(tx, path));
      // A copy stands for the file whose bytes it has.
      for (FileId first : ReceivedFiles.copiedTo(tx, path))
        ReceivedFiles.find(tx, first).ifPresent(meant::add);
      for (Received file : meant) if (file.kind() == Kind.TRACK) FileQueue.again(tx, file.id());
    }
  }

  static String folder(String path) {
    int slash = path.lastIndexOf('/');
    return slash < 0 ? "" : path.substring(0, slash);
  }

  /** The path of a file that a row names, from the sheet's folder on; never out of the inbox. */
  static String join(String folder, String file) {
    List<String> parts = new ArrayList<>();
    if (!folder.isEmpty()) parts.addAll(List.of(folder.split("/")));
    for (String part : file.strip().replace('\\', '/').split("/")) {
      if (part.isEmpty() || part.equals(".")) continue;
      if (!part.equals("..")) parts.add(DroppedName.shown(part));
      else if (!parts.isEmpty()) parts.remove(parts.size() - 1);
    }
    return String.join("/", parts);
  }
}
