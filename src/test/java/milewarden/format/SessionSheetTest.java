package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import milewarden.track.SheetProblem;
import milewarden.track.SheetProblem.Kind;
import milewarden.track.SheetRead;
import milewarden.track.SheetRow;
import milewarden.track.TagName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

final class SessionSheetTest {
  private static SheetRead.Usable usable(String text) {
    return usable(text.getBytes(StandardCharsets.UTF_8));
  }

  private static SheetRead.Usable usable(byte[] bytes) {
    return SessionSheet.read(bytes)
        .fold(
            u -> u,
            r -> {
              throw new AssertionError(r.why().toString());
            });
  }

  private static SheetProblem refused(byte[] bytes) {
    return SessionSheet.read(bytes)
        .fold(
            u -> {
              throw new AssertionError(u.toString());
            },
            r -> r.why());
  }

  private static final String ALL =
      "session,date,time,file,pass,slot,unit,firmware,course,carriage,gait,direction,laps,shown,"
          + "shown_unit,shown_step,rounding,bounds,interval,band,start_protocol,standing_s,fix_wait_s,battery,weather,control,role,"
          + "settings_check,clock,columns,operator,excluded_reason,notes\n"
          + "s1,2026-05-12,07:00,a.gpx,1,2,Blue 1,2.1.0,harbour-mile,swing-left,walk,forward,2,0.50,"
          + "mi,0.01,truncated,marks,1,dual,button-at-mark,4.5,40,85 %,overcast,no,test,as-found,-02:00,5=km,Ada,,\"wet, leaves\"\n";

  @Test
  void everyColumnOfTheContractIsATag() {
    SheetRow row = usable(ALL).rows().get(0);
    assertThat(usable(ALL).problems()).isEmpty();
    assertThat(usable(ALL).unknownColumns()).isEmpty();
    assertThat(row.row()).isEqualTo(2);
    assertThat(row.file()).contains("a.gpx");
    assertThat(row.extra()).isEmpty();
    // All tags but the model, which is no column, and the two cells left blank.
    assertThat(row.tags()).hasSize(TagName.values().length - 2);
    assertThat(row.tags())
        .containsEntry(TagName.SHOWN, "0.50")
        .containsEntry(TagName.CARRIAGE, "swing-left")
        .containsEntry(TagName.TIME, "07:00:00")
        .containsEntry(TagName.STANDING_S, "4.5")
        .containsEntry(TagName.NOTES, "wet, leaves");
  }

  @Test
  void semicolonsAndDecimalCommasOfASpreadsheetAreRead() {
    String text = "\ufeffUnit;File;Shown;Shown unit;Shown step\r\nBlue;a.gpx;0,27;Miles;0,01\r\n";
    SheetRow row = usable(text).rows().get(0);
    assertThat(row.tags())
        .containsEntry(TagName.SHOWN, "0.27")
        .containsEntry(TagName.SHOWN_STEP, "0.01")
        .containsEntry(TagName.SHOWN_UNIT, "mi")
        .containsEntry(TagName.UNIT, "Blue");
  }

  @Test
  void aCommaThatMayPartThousandsIsNotGuessed() {
    SheetRead.Usable u = usable("file,shown,shown_unit\na.gpx,\"1,320\",ft\nb.gpx,\"0,27\",mi\n");
    assertThat(u.rows().get(0).tags()).doesNotContainKey(TagName.SHOWN);
    assertThat(u.problems())
        .containsExactly(new SheetProblem(Kind.NOT_A_NUMBER, 2, Optional.of("shown"), "1,320"));
    assertThat(u.rows().get(1).tags()).containsEntry(TagName.SHOWN, "0.27");
  }

  @Test
  void tabsAndTheOldEncodingsAreRead() {
    String text = "unit\tfile\tnotes\nBlue\ta.gpx\tnaß\n";
    for (String charset : List.of("windows-1252", "UTF-8"))
      assertThat(usable(text.getBytes(Charset.forName(charset))).rows().get(0).tags())
          .containsEntry(TagName.NOTES, "naß");
    byte[] utf16 = ("\ufeff" + text).getBytes(StandardCharsets.UTF_16LE);
    assertThat(usable(utf16).rows().get(0).tags()).containsEntry(TagName.NOTES, "naß");
  }

  @Test
  void aShownDistanceMayCarryItsUnit() {
    SheetRow row = usable("unit,shown\nBlue,0.27 mi\n").rows().get(0);
    assertThat(row.file()).isEmpty();
    assertThat(row.tags())
        .containsEntry(TagName.SHOWN, "0.27")
        .containsEntry(TagName.SHOWN_UNIT, "mi");
  }

  @Test
  void unknownColumnsAreKept() {
    SheetRead.Usable u = usable("file,shoes,unit,\na.gpx,old ones,Blue,x\n");
    assertThat(u.unknownColumns()).containsExactly("shoes", "column 4");
    assertThat(u.rows().get(0).extra())
        .containsEntry("shoes", "old ones")
        .containsEntry("column 4", "x");
  }

  @Test
  void aBadCellIsNamedWithRowAndColumnAndItsRowGoesOn() {
    SheetRead.Usable u =
        usable(
            "file,carriage,laps,shown,shown_step,date,time,control\n"
                + "\n"
                + "a.gpx,on my head,1.5,-3,0,30.2.2026,25:00,perhaps\n"
                + "b.gpx,pack,2,3,0.01,12.5.2026,9:05,yes\n");
    assertThat(u.problems())
        .extracting(SheetProblem::kind)
        .containsExactly(
            Kind.UNKNOWN_CODE,
            Kind.NOT_A_NUMBER,
            Kind.NEGATIVE_NUMBER,
            Kind.NEGATIVE_NUMBER,
            Kind.BAD_DATE,
            Kind.BAD_TIME,
            Kind.UNKNOWN_CODE);
    assertThat(u.problems()).allSatisfy(p -> assertThat(p.row()).isEqualTo(3));
    assertThat(u.rows()).hasSize(2);
    assertThat(u.rows().get(0).tags()).isEmpty();
    assertThat(u.rows().get(1).tags())
        .containsEntry(TagName.DATE, "2026-05-12")
        .containsEntry(TagName.TIME, "09:05:00")
        .containsEntry(TagName.LAPS, "2")
        .containsEntry(TagName.CONTROL, "yes");
  }

  @ParameterizedTest
  @CsvSource({
    "2026-05-12, 2026-05-12", "12.5.2026, 2026-05-12", "2026/5/12, 2026-05-12",
    "25/11/2026, 2026-11-25", "11/25/2026, 2026-11-25", "5/5/2026, 2026-05-05"
  })
  void aDateThatCanBeMeantInOneWayOnlyIsRead(String text, String expected) {
    assertThat(usable("file,date\na.gpx," + text + "\n").rows().get(0).tags())
        .containsEntry(TagName.DATE, expected);
  }

  @Test
  void aDateThatCanBeMeantInTwoWaysIsAskedAbout() {
    assertThat(usable("file,date\na.gpx,5/12/2026\n").problems())
        .containsExactly(
            new SheetProblem(Kind.AMBIGUOUS_DATE, 2, Optional.of("date"), "5/12/2026"));
  }

  @Test
  void aRowWithoutAFileCountsByItsShownDistanceOrItsReason() {
    SheetRead.Usable u =
        usable("unit,file,shown,excluded_reason\nBlue,,0.25,\nGreen,,,device fault\nRed,,,\n");
    assertThat(u.rows()).hasSize(2);
    assertThat(u.problems())
        .containsExactly(new SheetProblem(Kind.NOTHING_TO_COUNT, 4, Optional.empty(), ""));
  }

  @Test
  void aRowWithACellTooManyIsLeftOutAndTheOthersGoOn() {
    SheetRead.Usable u = usable("file,shown,unit\na.gpx,0,27,Blue\nb.gpx,0.26,Blue\n");
    assertThat(u.rows()).hasSize(1);
    assertThat(u.problems())
        .containsExactly(new SheetProblem(Kind.TOO_MANY_CELLS, 2, Optional.empty(), "Blue"));
  }

  @Test
  void aPassIsNotCountedTwiceWithinASheet() {
    SheetRead.Usable u =
        usable("session,unit,pass,shown\ns1,Blue,1,1\ns1,Blue,2,1\ns1,Blue,1,2\ns2,Blue,1,1\n");
    assertThat(u.rows()).extracting(SheetRow::row).containsExactly(2, 3, 5);
    assertThat(u.problems()).extracting(SheetProblem::kind).containsExactly(Kind.REPEATED_KEY);
  }

  @Test
  void aQuotedCellMaySpanLinesAndRowsStillHaveTheirOwn() {
    SheetRead.Usable u = usable("file,notes\na.gpx,\"two\nlines\"\nb.gpx,x\n");
    assertThat(u.rows()).extracting(SheetRow::row).containsExactly(2, 4);
  }

  @Test
  void aQuoteNeverClosedKeepsTheRowsBeforeIt() {
    SheetRead.Usable u = usable("file,notes\na.gpx,x\nb.gpx,\"open\nc.gpx,y\n");
    assertThat(u.rows()).hasSize(1);
    assertThat(u.problems())
        .containsExactly(
            new SheetProblem(Kind.UNREADABLE, 3, Optional.empty(), "a quote is never closed"));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "\n\n", " , ,\n"})
  void anEmptySheetIsRefused(String text) {
    assertThat(refused(text.getBytes(StandardCharsets.UTF_8)).kind()).isEqualTo(Kind.EMPTY);
  }

  @Test
  void whatIsNoSheetIsRefused() {
    assertThat(refused("a.gpx,0.27\n".getBytes(StandardCharsets.UTF_8)).kind())
        .isEqualTo(Kind.NO_HEADER);
    assertThat(refused(new byte[] {'P', 'K', 3, 4, 0, 0, 1, (byte) 0x81}).kind())
        .isEqualTo(Kind.NOT_TEXT);
  }
}
