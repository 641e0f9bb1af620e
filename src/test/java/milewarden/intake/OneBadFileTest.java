package milewarden.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import milewarden.store.Id.FileId;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Bytes that were damaged in the store hold up nobody else. */
final class OneBadFileTest {
  @TempDir Path data;

  @Test
  void aFileWhoseStoredBytesAreDamagedIsSaidAndTheOthersAreMeasured() throws SQLException {
    try (Tester tester = new Tester(data, Tester.HANDS)) {
      tester.course(Tester.PIER);
      FileId bad =
          tester.receive("K1/1.0/bad.gpx", Tester.walk(Tester.PIER, "2026-05-10T08:00:00Z", 1));
      String hash = row(tester, bad).sha256();
      FileId good =
          tester.receive("K1/1.0/good.gpx", Tester.walk(Tester.PIER, "2026-05-11T08:00:00Z", 2));
      try (Connection c =
              DriverManager.getConnection("jdbc:sqlite:" + data.resolve("milewarden.db"));
          Statement sql = c.createStatement()) {
        sql.execute("update content set deflated = x'00112233' where sha256 = '" + hash + "'");
      }
      tester.measuring.work();
      assertThat(row(tester, good).state()).isEqualTo(State.MEASURED);
      assertThat(row(tester, bad).state()).isEqualTo(State.REFUSED);
      assertThat(row(tester, bad).reason().orElseThrow().sentence()).contains("can't be read");
    }
  }

  private static Received row(Tester tester, FileId id) {
    return tester.database.read(tx -> ReceivedFiles.find(tx, id)).orElseThrow();
  }
}
