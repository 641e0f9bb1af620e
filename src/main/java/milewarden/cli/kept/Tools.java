package milewarden.cli.kept;

import java.time.ZoneId;
import milewarden.report.Digits;
import milewarden.store.Database;
import milewarden.verdict.Policy;

/** What commands on a data folder work with; to be closed. */
public record Tools(Database database, Policy policy, ZoneId zone, Digits digits)
    implements AutoCloseable {
  java.time.Instant now() {
    return database.read(tx -> tx.now());
  }

  @Override
  public void close() {
    database.close();
  }
}
