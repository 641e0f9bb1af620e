package milewarden.store.run;

import java.util.List;
import java.util.OptionalDouble;
import milewarden.store.Id.MeasurementId;
import milewarden.store.Tx;
import org.jdbi.v3.core.statement.PreparedBatch;

/** The passes of many recordings, written in one go. */
public final class PassesTogether {
  private final PreparedBatch rest;
  private final PreparedBatch rows;

  public PassesTogether(Tx tx) {
    this.rest = tx.batch(Results.DROP_REST);
    this.rows = tx.batch(Results.PUT_PASS);
  }

  /** Those of one measurement, in place of all that were there. */
  void add(MeasurementId id, List<PassRows.Written> passes, OptionalDouble displayStepM) {
    int last = passes.stream().mapToInt(p -> p.pass().index()).max().orElse(0);
    rest.bind("measurement", id).bind("passes", last).add();
    for (PassRows.Written pass : passes)
      PassRows.bind(rows.bind("measurement", id), pass, displayStepM).add();
  }

  public void write() {
    if (rest.size() > 0) rest.execute();
    if (rows.size() > 0) rows.execute();
  }
}
