package milewarden.format.measured;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.groups.Tuple.tuple;

import java.nio.charset.StandardCharsets;
import java.util.List;
import milewarden.course.FieldSheet;
import milewarden.course.FieldSheetIssue;
import milewarden.course.FieldSheetIssue.Kind;
import milewarden.course.FieldSheetRead;
import milewarden.course.LengthBudget;
import org.junit.jupiter.api.Test;

final class FieldSheetFileTest {
  private static final String WHEEL =
      """
      item,value,start,end,turns,temperature_c,note
      method,wheel
      measured_on,2026-05-12
      calibration_m,500
      before,,0,5000,,14
      pass,,5000,14000,,15,"clockwise, dry"
      after,,14000,19000,,16
      """;

  private static FieldSheetRead read(String csv) {
    return FieldSheetFile.csv(csv.getBytes(StandardCharsets.UTF_8)).read();
  }

  private static FieldSheet usable(String csv) {
    return read(csv)
        .fold(
            FieldSheetRead.Usable::sheet,
            refused -> {
              throw new AssertionError(refused.toString());
            });
  }

  private static List<FieldSheetIssue> issues(String csv) {
    return read(csv)
        .fold(
            ok -> {
              throw new AssertionError("usable");
            },
            FieldSheetRead.Refused::issues);
  }

  @Test
  void aSheetOfAWheelIsRead() {
    FieldSheet sheet = usable(WHEEL);
    // 5,000 counts are 500 m, so 9,000 are 900 m.
    assertThat(LengthBudget.of(sheet).lengthM()).isEqualTo(900);
    assertThat(sheet.measuredOn()).hasToString("Optional[2026-05-12]");
  }

  @Test
  void aSpreadsheetsSemicolonsAndCommasSayTheSame() {
    String german =
        "ITEM;Value;Start;End\r\nmethod;wheel\r\ncalibration_m;499,5\r\n"
            + "before;;0;4995\r\npass;;0;9000,5\r\n";
    assertThat(LengthBudget.of(usable(german)).lengthM()).isEqualTo(900.05);
  }

  /** NIST SP 811, appendix B.8: the foot is 0.3048 m, the mile 1609.344 m, both exactly. */
  @Test
  void aLengthMayCarryItsUnit() {
    String tape =
        """
        item,value,temperature_c
        method,steel-tape
        tape_nominal_m,100 ft
        marks_m,2in
        pass,1320ft,20
        pass,0.25 mi,20
        """;
    assertThat(issues(tape))
        .extracting(FieldSheetIssue::kind, FieldSheetIssue::place)
        .containsExactly(tuple(Kind.NOT_A_NUMBER, "line 4"));
    FieldSheet sheet = usable(tape.replace("2in", "0.05 m"));
    assertThat(LengthBudget.of(sheet).lengthM()).isCloseTo(402.336, within(1e-9));
    String wheel =
        "item;value;start;end\nmethod;wheel\ncalibration_m;1640,5 ft\nbefore;;0;5000\npass;;0;9000\n";
    assertThat(LengthBudget.of(usable(wheel)).lengthM())
        .isCloseTo(1640.5 * 0.3048 * 9 / 5, within(1e-9));
    // A range is one of metres: 4,000 ft are no tape.
    assertThat(issues(tape.replace("2in", "0.05 m").replace("100 ft", "4000 ft")))
        .extracting(FieldSheetIssue::kind)
        .containsExactly(Kind.OUT_OF_RANGE);
    FieldSheetFile.CsvLines first =
        FieldSheetFile.csv(tape.replace("2in", "0.05 m").getBytes(StandardCharsets.UTF_8));
    List<SheetLine> again = FieldSheetFile.lines(FieldSheetFile.json(first.lines()));
    assertThat(SheetLines.read(again, false)).isEqualTo(new FieldSheetRead.Usable(sheet));
  }

  @Test
  void everythingWrongIsSaidAtOnceWithItsLine() {
    List<FieldSheetIssue> issues =
        issues(
            """
            item,value,start,end,turns,temperature_c
            method,wheel
            measured_on,12.5.2026
            calibration_m,-3
            colour,red
            before,,0,5000,,14
            before,,5000,,,14
            before,,9000,8000
            pass,,x,14000,,15
            tape_nominal_m,30
            safety_factor,yes
            """);
    assertThat(issues)
        .extracting(FieldSheetIssue::kind, FieldSheetIssue::place)
        .containsExactlyInAnyOrder(
            tuple(Kind.BAD_DATE, "line 3"),
            tuple(Kind.OUT_OF_RANGE, "line 4"),
            tuple(Kind.UNKNOWN_ITEM, "line 5"),
            tuple(Kind.HALF_A_READING, "line 7"),
            tuple(Kind.COUNTER_WENT_BACK, "line 8"),
            tuple(Kind.NOT_A_NUMBER, "line 9"),
            tuple(Kind.OTHER_METHODS_ITEM, "line 10"),
            tuple(Kind.FACTOR_WITH_READINGS, "line 11"));
  }

  @Test
  void whatIsNoSheetSaysSo() {
    assertThat(issues("").get(0).kind()).isEqualTo(Kind.EMPTY);
    assertThat(issues("a,b\n1,2\n").get(0).kind()).isEqualTo(Kind.NO_HEADER);
    assertThat(issues("item,value\nmethod,sextant\n").get(0).kind()).isEqualTo(Kind.UNKNOWN_METHOD);
    assertThat(issues("item,value\ncalibration_m,500\n"))
        .extracting(FieldSheetIssue::kind)
        .contains(Kind.MISSING_ITEM);
    byte[] binary = {(byte) 0x50, 0x4b, 3, 4, 0, 0, 0, 0};
    FieldSheetRead zip = FieldSheetFile.csv(binary).read();
    assertThat(zip).isInstanceOf(FieldSheetRead.Refused.class);
  }

  @Test
  void whetherACertificateCarriesTheFactorHasToBeAnswered() {
    String figure = "item,value\nmethod,certificate\ncertified_m,5000\n";
    assertThat(issues(figure))
        .extracting(FieldSheetIssue::kind)
        .containsExactly(Kind.FACTOR_NOT_ANSWERED);
    // 5,000 m certified by that practice are nominally 5,005 m long.
    assertThat(LengthBudget.of(usable(figure + "safety_factor,yes\n")).referenceM())
        .isCloseTo(5005.0, within(1e-9));
    assertThat(LengthBudget.of(usable(figure + "safety_factor,no\n")).referenceM())
        .isEqualTo(5000.0);
  }

  @Test
  void aSheetComesBackFromCsvAndFromTheCourseFile() {
    FieldSheetFile.CsvLines first = FieldSheetFile.csv(WHEEL.getBytes(StandardCharsets.UTF_8));
    FieldSheet sheet = usable(WHEEL);
    assertThat(usable(FieldSheetFile.csv(first.lines()))).isEqualTo(sheet);
    List<SheetLine> again = FieldSheetFile.lines(FieldSheetFile.json(first.lines()));
    assertThat(SheetLines.read(again, false)).isEqualTo(new FieldSheetRead.Usable(sheet));
  }

  @Test
  void aBlankSheetOfEachMethodLacksItsReadingsAndNothingElse() {
    for (String method : List.of("wheel", "calibrated-bicycle", "steel-tape", "certificate")) {
      String blank = FieldSheetFile.blank(method).orElseThrow();
      assertThat(issues(blank))
          .as(method)
          .extracting(FieldSheetIssue::kind)
          .isSubsetOf(
              Kind.MISSING_ITEM, Kind.NO_RIDES_BEFORE, Kind.NO_PASSES, Kind.FACTOR_NOT_ANSWERED);
    }
    assertThat(FieldSheetFile.blank("sextant")).isEmpty();
  }
}
