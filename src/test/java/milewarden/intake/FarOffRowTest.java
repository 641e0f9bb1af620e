package milewarden.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A reading in a sheet that is of another order than its course counts, and is remarked on. */
final class FarOffRowTest {
  @TempDir private Path data;

  @Test
  void aReadingOfAnotherUnitIsRemarkedOnWithItsRow() {
    try (Tester tester = new Tester(data, Tester.HANDS)) {
      tester.course(Tester.PIER);
      tester.course(Tester.LOOP);
      // The pier is 400 m long; half and twice of it are its bounds. The loop is one of 400 m, too.
      Received sheet =
          tester.drop(
              "day/session.csv",
              """
              session,date,time,file,unit,firmware,course,laps,shown,shown_unit,notes
              S1,2026-05-10,08:00,,K1,1.0,pier,,0.41,km,
              S2,2026-05-10,09:00,,K1,1.0,pier,,0.41,mi,
              S3,2026-05-10,10:00,,K1,1.0,pier,,0.81,km,
              S4,2026-05-10,11:00,,K1,1.0,pier,,0.19,km,
              S5,2026-05-10,12:00,,K1,1.0,pier,,41,km,a long way round
              S6,2026-05-10,13:00,a.gpx,K1,1.0,loop,,4.1,km,
              S7,2026-05-10,14:00,b.gpx,K1,1.0,loop,2,4.1,km,
              """);
      assertThat(sheet.state()).isEqualTo(State.MEASURED);
      assertThat(sheet.reason().map(Reason::sentence).orElse(""))
          .contains("Row 4: the distance shown is more than twice, or less than half", "Row 5: ")
          .contains("Row 8: ", "It counts as it stands", "or say in notes that it is so")
          .doesNotContain("Row 2:", "Row 6:", "Row 7:");
      assertThat(tester.runs()).as("each counts").hasSize(5);
    }
  }
}
