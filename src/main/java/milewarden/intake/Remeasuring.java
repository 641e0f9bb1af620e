package milewarden.intake;

import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.store.Id.RunId;
import milewarden.store.ReceivedFiles;
import milewarden.store.ReceivedFiles.Received;
import milewarden.store.Runs;
import milewarden.store.SheetRows;
import milewarden.store.Tx;
import milewarden.track.TagName;

/**
 * New results beside the old ones, after a course was measured again or the engine changed: runs go
 * back to the measuring stage.
 */
final class Remeasuring {
  // All of them: what can't be measured again would otherwise hide the rest.
  private static final int ALL = Integer.MAX_VALUE;

  private final RowRuns rowRuns;

  Remeasuring(RowRuns rowRuns) {
    this.rowRuns = rowRuns;
  }

  void queue(Tx tx, Known known) {
    for (RunId id : Runs.unmeasured(tx, Engine.VERSION, ALL)) {
      Runs.Run run = Runs.find(tx, id).orElseThrow();
      run.file().ifPresent(file -> ReceivedFiles.again(tx, file));
      Optional<SheetRows.SheetRow> row = run.row().flatMap(key -> SheetRows.find(tx, key));
      row.ifPresent(r -> row(tx, r, known));
    }
    for (SheetRows.SheetRow row : SheetRows.withoutFile(tx))
      if (row.missing().contains(TagName.COURSE)) ReceivedFiles.again(tx, row.words().sheet());
  }

  private void row(Tx tx, SheetRows.SheetRow row, Known known) {
    Optional<Received> sheet = ReceivedFiles.find(tx, row.words().sheet());
    sheet.ifPresent(s -> rowRuns.keep(tx, row, s, known));
  }
}
