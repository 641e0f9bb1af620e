package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.stream.Stream;
import milewarden.course.CourseChange;
import milewarden.course.CourseIssue;
import milewarden.course.CourseIssue.Kind;
import milewarden.course.CourseNotice;
import milewarden.course.CourseRead;
import milewarden.course.Mark;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.course.SkyView;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Position;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

final class CourseFileTest {
  private static final Position START = new Position(48, 11);

  /** A straight 1,000 m to the east-north-east, in two parts. */
  private static String line() {
    Position middle = Geodesics.direct(START, 70, 400);
    Position end = Geodesics.direct(middle, 70.004, 600);
    return "[[11,48],["
        + middle.longitudeDeg()
        + ","
        + middle.latitudeDeg()
        + "],["
        + end.longitudeDeg()
        + ","
        + end.latitudeDeg()
        + "]]";
  }

  private static final String PROPERTIES =
      "\"slug\":\"harbour-mile\",\"name\":\"Harbour Mile\",\"closed\":false,"
          + "\"measured_length_m\":1000,\"standard_uncertainty_m\":0.4,\"measured_on\":\"2026-04-01\","
          + "\"measured_by\":\"the two of us\",\"method\":\"calibrated-bicycle\","
          + "\"sky_view\":\"partly-open\",\"surface\":\"asphalt\",\"corridor_m\":25,"
          + "\"notes\":\"mind the ferry\"";

  private static String file(String properties, String coordinates) {
    return "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Feature\",\"properties\":{"
        + properties
        + "},\"geometry\":{\"type\":\"LineString\",\"coordinates\":"
        + coordinates
        + "}}]}";
  }

  private static CourseRead read(String text) {
    return CourseFile.read(text.getBytes(StandardCharsets.UTF_8));
  }

  private static CourseRead.Usable usable(String text) {
    return read(text)
        .fold(
            u -> u,
            r -> {
              throw new AssertionError(r.issues().toString());
            });
  }

  private static List<CourseIssue> refused(String text) {
    return read(text)
        .fold(
            u -> {
              throw new AssertionError("usable");
            },
            r -> r.issues());
  }

  private static CourseIssue only(String text) {
    List<CourseIssue> issues = refused(text);
    assertThat(issues).hasSize(1);
    return issues.get(0);
  }

  @Test
  void aWholeFileIsRead() {
    String mark =
        ",{\"type\":\"Feature\",\"properties\":{\"role\":\"control\",\"chainage_m\":400},"
            + "\"geometry\":{\"type\":\"Point\",\"coordinates\":[11.005,48.001]}}]}";
    String text = file(PROPERTIES, line());
    CourseRead.Usable u = usable(text.substring(0, text.length() - 2) + mark);
    ReferenceCourse c = u.course();
    assertThat(u.notices()).isEmpty();
    assertThat(c.slug().text()).isEqualTo("harbour-mile");
    assertThat(c.closed()).isFalse();
    assertThat(c.line().positions()).hasSize(3).first().isEqualTo(START);
    assertThat(c.measuredLengthM()).isEqualTo(1000);
    assertThat(c.standardUncertaintyM()).isEqualTo(0.4);
    assertThat(c.method()).isEqualTo(Method.CALIBRATED_BICYCLE);
    assertThat(c.skyView()).isEqualTo(SkyView.PARTLY_OPEN);
    assertThat(c.measuredOn()).hasValueSatisfying(d -> assertThat(d).hasToString("2026-04-01"));
    assertThat(c.corridorM()).hasValue(25);
    assertThat(c.marks()).hasSize(1).first().extracting(Mark::role).isEqualTo(Mark.Role.CONTROL);
    assertThat(c.scale()).isCloseTo(1, within(1e-6));
  }

  @Test
  void theVersionIsTheHashOfTheBytes() {
    String text = file(PROPERTIES, line());
    // Source of the digest: FIPS 180-4 test value for "abc", in the class that computes it.
    assertThat(Sha256.hex("abc".getBytes(StandardCharsets.US_ASCII)))
        .isEqualTo("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    assertThat(usable(text).course().version())
        .isEqualTo(Sha256.hex(text.getBytes(StandardCharsets.UTF_8)))
        .isNotEqualTo(usable(text + "\n").course().version());
  }

  @Test
  void aLineHalfAPercentOffIsRefusedWithBothLengths() {
    CourseIssue issue = only(file(PROPERTIES.replace(":1000,", ":1006,"), line()));
    assertThat(issue.kind()).isEqualTo(Kind.LINE_DISAGREES);
    assertThat(issue.detail()).contains("1000.00 m").contains("1006.00 m").contains("0.60 %");
  }

  @ParameterizedTest
  @CsvSource({"1000.9, false", "999.1, false", "1001.2, true", "998.8, true", "1004.9, true"})
  void aLineATenthOfAPercentOffIsNoticed(String measured, boolean noticed) {
    CourseRead.Usable u = usable(file(PROPERTIES.replace(":1000,", ":" + measured + ","), line()));
    assertThat(u.notices().stream().anyMatch(n -> n.kind() == CourseNotice.Kind.LINE_OFF))
        .isEqualTo(noticed);
  }

  @Test
  void theHeightAboveTheEllipsoidLengthensTheGround() {
    // REFERENCE: ground = ellipsoid x (1 + h/R); 1,600 m at 40 degrees is 1000.2515 m per km
    // (worked out from M and N in wgs84_radii_and_degrees.csv: sqrt(M N) = 6374383.5823 m).
    Position a = new Position(40, 11);
    Position b = Geodesics.direct(a, 90, 1000);
    String text =
        file(
            PROPERTIES + ",\"mean_height_m\":1600",
            "[[11,40],[" + b.longitudeDeg() + "," + b.latitudeDeg() + "]]");
    ReferenceCourse c = usable(text).course();
    assertThat(c.groundFactor()).isCloseTo(1 + 1600 / 6374383.5823, within(1e-9));
    assertThat(c.scale()).isCloseTo(1000 / 1000.2510, within(1e-6));
  }

  @Test
  void aProfileTakesTheSlopeOut() {
    // 3-4-5 triangles: 500 m along a slope that climbs 300 m are 400 m level.
    String text =
        file(
            PROPERTIES.replace(":1000,", ":1200,")
                + ",\"height_profile\":[[0,10],[500,310],[1000,10],[1200,10]]",
            line());
    ReferenceCourse c = usable(text).course();
    assertThat(c.referenceM()).isEqualTo(1200);
    assertThat(c.horizontalM()).isCloseTo(1000, within(1e-9));
  }

  @Test
  void aSafetyFactorIsPartOfTheReferenceAndSaid() {
    CourseRead.Usable u =
        usable(file(PROPERTIES.replace(":1000,", ":999,") + ",\"safety_factor\":1.001", line()));
    assertThat(u.course().referenceM()).isCloseTo(999.999, within(1e-9));
    assertThat(u.notices())
        .extracting(CourseNotice::kind)
        .containsExactly(CourseNotice.Kind.SAFETY_FACTOR);
  }

  @Test
  void aClosedLineMustEndWhereItStarts() {
    CourseIssue issue = only(file(PROPERTIES.replace("false", "true"), line()));
    assertThat(issue.kind()).isEqualTo(Kind.NOT_CLOSED);
    assertThat(issue.detail()).contains("1000.00 m");
  }

  @Test
  void everythingWrongIsSaidAtOnceWithItsPlace() {
    String text =
        file(
            "\"slug\":\"Harbour Mile\",\"closed\":\"yes\",\"measured_length_m\":\"0.25 mi\","
                + "\"method\":\"guess\",\"measured_on\":\"1.4.2026\",\"safety_factor\":2,"
                + "\"sky_view\":\"open\",\"height_profile\":[[0,0],[0,1]]",
            "[[11,48],[48.2,111]]");
    List<CourseIssue> issues = refused(text);
    assertThat(issues)
        .extracting(i -> i.place().orElse(""))
        .containsExactlyInAnyOrder(
            "/features/0/properties/name",
            "/features/0/properties/slug",
            "/features/0/properties/closed",
            "/features/0/properties/measured_length_m",
            "/features/0/properties/method",
            "/features/0/properties/measured_on",
            "/features/0/properties/safety_factor",
            "/features/0/properties/height_profile/1",
            "/features/0/geometry/coordinates/1");
    assertThat(issues).anySatisfy(i -> assertThat(i.detail()).contains("longitude comes first"));
  }

  @Test
  void aSyntaxErrorHasLineAndColumn() {
    CourseIssue issue = only("{\n  \"type\": \"Feature\",\n  oops\n}");
    assertThat(issue.kind()).isEqualTo(Kind.NOT_JSON);
    assertThat(issue.place()).hasValueSatisfying(p -> assertThat(p).startsWith("line 3, column "));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "''|NOT_GEOJSON",
        "[]|NOT_GEOJSON",
        "{}|NOT_GEOJSON",
        "{\"type\":\"FeatureCollection\"}|NOT_GEOJSON",
        "{\"type\":\"FeatureCollection\",\"features\":[]}|NO_LINE",
        "{\"type\":\"Feature\",\"type\":\"Feature\"}|NOT_JSON",
        "{} {}|NOT_JSON",
        "nonsense|NOT_JSON"
      })
  void whatIsNoCourseIsRefused(String text, Kind kind) {
    assertThat(only(text).kind()).isEqualTo(kind);
  }

  @Test
  void twoLinesAreRefused() {
    String one = file(PROPERTIES, line());
    String feature = one.substring(one.indexOf("[{") + 1, one.length() - 2);
    assertThat(
            only("{\"type\":\"FeatureCollection\",\"features\":[" + feature + "," + feature + "]}")
                .kind())
        .isEqualTo(Kind.SEVERAL_LINES);
    assertThat(usable(feature).course().slug().text()).isEqualTo("harbour-mile");
  }

  @Test
  void aMissingUncertaintyIsAssumedAndSaid() {
    CourseRead.Usable u =
        usable(file(PROPERTIES.replace("\"standard_uncertainty_m\":0.4,", ""), line()));
    assertThat(u.course().standardUncertaintyM()).isEqualTo(1.0);
    assertThat(u.notices())
        .extracting(CourseNotice::kind)
        .containsExactly(CourseNotice.Kind.UNCERTAINTY_ASSUMED);
  }

  @Test
  void theReadingsInTheFileHaveToGiveItsLength() {
    // 5,000 counts are 500 m; the pass of 4,000 counts is 400 m.
    String sheet =
        ",\"field_sheet\":{\"method\":\"wheel\",\"calibration_m\":500,"
            + "\"before\":[{\"start\":0,\"end\":5000}],\"pass\":[{\"start\":0,\"end\":%s}]}";
    double length = usable(file(PROPERTIES, line())).course().measuredLengthM();
    String right = file(PROPERTIES + String.format(sheet, Math.round(10 * length)), line());
    assertThat(usable(right).notices()).isEmpty();
    String wrong = file(PROPERTIES + String.format(sheet, Math.round(10 * length) + 2), line());
    assertThat(usable(wrong).notices())
        .extracting(CourseNotice::kind)
        .containsExactly(CourseNotice.Kind.SHEET_DISAGREES);
  }

  @Test
  void aVersionNamesItsAuthorItsReasonAndItsDay() {
    String said =
        ",\"changed_by\":\"A\",\"changed_why\":\"new kerb\",\"changed_on\":\"2026-05-12\"";
    CourseRead.Usable u = usable(file(PROPERTIES + said, line()));
    assertThat(u.notices()).isEmpty();
    assertThat(u.course().change())
        .contains(new CourseChange("A", "new kerb", LocalDate.of(2026, 5, 12)));
    assertThat(usable(CourseFile.write(u.course())).course().change())
        .isEqualTo(u.course().change());
  }

  @Test
  void whatIsNotKnownIsKeptAndSaidAndWrittenAgain() {
    String text =
        file(PROPERTIES + ",\"bench\":{\"wood\":[1,2]},\"field_sheet\":{\"rides\":[5610]}", line());
    CourseRead.Usable u = usable(text);
    assertThat(u.notices())
        .containsExactly(
            new CourseNotice(CourseNotice.Kind.UNKNOWN_PROPERTY, "bench"),
            new CourseNotice(CourseNotice.Kind.SHEET_NOT_UNDERSTOOD, "rides 1 rides"));
    assertThat(u.course().otherProperties())
        .containsEntry("bench", "{\"wood\":[1,2]}")
        .containsEntry("field_sheet", "{\"rides\":[5610]}");
    ReferenceCourse again = usable(CourseFile.write(u.course())).course();
    assertThat(again).usingRecursiveComparison().ignoringFields("version").isEqualTo(u.course());
  }

  @Test
  void everyReferenceCourseOfTheProjectParses() throws Exception {
    Path folder = Path.of("reference-courses");
    if (!Files.isDirectory(folder)) return;
    try (Stream<Path> files = Files.list(folder)) {
      for (Path f : files.filter(p -> p.toString().endsWith(".geojson")).toList())
        assertThat(CourseFile.read(Files.readAllBytes(f)))
            .as(f.toString())
            .isInstanceOf(CourseRead.Usable.class);
    }
  }
}
