package milewarden.intake;

import java.util.List;
import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.SheetRows;
import milewarden.store.judged.Recomputations;
import milewarden.store.judged.Recomputations.Because;
import milewarden.store.run.Runs;
import milewarden.track.TagName;

/**
 * New results beside the old ones, after a course was measured again or the engine changed: runs go
 * back to the measuring stage.
 */
final class Remeasuring {
  // A row is measured in microseconds; so many at a time keep the transaction short.
  private static final int ROWS = 200;

  private final RowRuns rowRuns;

  Remeasuring(RowRuns rowRuns) {
    this.rowRuns = rowRuns;
  }

  static int queue(Tx tx, Because because, String detail) {
    int runs = Recomputations.queue(tx, Engine.VERSION, because, detail);
    for (SheetRows.SheetRow row : SheetRows.withoutFile(tx))
      if (row.missing().contains(TagName.COURSE)) FileQueue.again(tx, row.words().sheet());
    return runs;
  }

  /**
   * Measures queued runs that have no recording.
   *
   * @return false where there was none
   */
  boolean rows(Tx tx, Known known) {
    List<RunId> runs = Recomputations.withoutFile(tx, ROWS);
    for (RunId id : runs) {
      Runs.Run run = Runs.find(tx, id).orElseThrow();
      Optional<SheetRows.SheetRow> row = run.row().flatMap(key -> SheetRows.find(tx, key));
      row.ifPresent(r -> row(tx, r, known));
      Recomputations.done(tx, id);
    }
    return !runs.isEmpty();
  }

  private void row(Tx tx, SheetRows.SheetRow row, Known known) {
    Optional<Received> sheet = ReceivedFiles.find(tx, row.words().sheet());
    sheet.ifPresent(s -> rowRuns.again(tx, row, s, known));
  }
}
