package milewarden.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import milewarden.course.CourseRead;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.geodesy.Position;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class CourseCommandsTest {
  private static final String WHEEL =
      """
      item,value,start,end,turns,temperature_c
      method,wheel
      measured_on,2026-05-12
      measured_by,A. Walker
      calibration_m,500
      before,,0,5000,,14
      before,,0,5000,,14
      pass,,0,4000,,14
      pass,,0,4000,,14
      after,,0,5000,,14
      after,,0,5000,,14
      """;

  @TempDir private Path folder;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  private int run(String... args) {
    out.getBuffer().setLength(0);
    err.getBuffer().setLength(0);
    return Milewarden.run(Map.of(), new PrintWriter(out), new PrintWriter(err), args);
  }

  private String sheet(String text) throws IOException {
    return Files.writeString(folder.resolve("sheet.csv"), text).toString();
  }

  private static ReferenceCourse course(String text) {
    return CourseFile.read(text.getBytes(StandardCharsets.UTF_8))
        .fold(
            CourseRead.Usable::course,
            bad -> {
              throw new AssertionError(bad.toString());
            });
  }

  @Test
  void aSheetIsWorkedOutToLengthAndBudget() throws IOException {
    assertThat(run("course", "sheet", sheet(WHEEL))).isEqualTo(Exit.DONE);
    assertThat(out.toString())
        .contains("400.000 m", "the path walked against the line measured", "coverage factor");
    assertThat(run("course", "sheet", "--json", sheet(WHEEL))).isEqualTo(Exit.DONE);
    JsonNode json = new ObjectMapper().readTree(out.toString());
    assertThat(json.path("lengthM").doubleValue()).isCloseTo(400, within(1e-9));
    double squares = 0;
    for (JsonNode term : json.path("budget"))
      squares += Math.pow(term.path("standardUncertaintyM").doubleValue(), 2);
    assertThat(json.path("standardUncertaintyM").doubleValue())
        .isCloseTo(Math.sqrt(squares), within(1e-12));
  }

  @Test
  void aBadSheetIsRefusedWithFileAndLine() throws IOException {
    String file = sheet(WHEEL.replace("pass,,0,4000", "pass,,0,4OOO"));
    assertThat(run("course", "sheet", file)).isEqualTo(Exit.FINDINGS);
    assertThat(err.toString()).contains(file + ": Line 8: ", "4OOO");
    assertThat(run("course", "sheet", folder.resolve("none.csv").toString()))
        .isEqualTo(Exit.FAILURE);
    assertThat(run("course", "sheet")).isEqualTo(Exit.WRONG_USE);
  }

  @Test
  void constantsThatMovedByATenthOfAPercentAreAFinding() throws IOException {
    String moved = WHEEL.replace("after,,0,5000", "after,,0,5006");
    assertThat(run("course", "sheet", sheet(moved))).isEqualTo(Exit.FINDINGS);
    assertThat(out.toString()).contains("Measure the course again");
  }

  @Test
  void aStandardTrackOfAnyLaneAndStartIsACourse() {
    // Lap of lane 3: 2 x 84.39 m + 2 pi x 39.14 m (track facilities manual).
    assertThat(run("course", "track", "--centre", "-33.5,150.2", "--bearing", "75", "--lane", "3"))
        .isEqualTo(Exit.DONE);
    ReferenceCourse first = course(out.toString());
    assertThat(first.measuredLengthM()).isCloseTo(414.703873, within(1e-6));
    run(
        "course",
        "track",
        "--centre",
        "-33.5,150.2",
        "--bearing",
        "75",
        "--lane",
        "3",
        "--start",
        "84.39");
    ReferenceCourse later = course(out.toString());
    assertThat(later.ellipsoidLengthM()).isCloseTo(first.ellipsoidLengthM(), within(1e-3));
    assertThat(later.line().positions().get(0)).isNotEqualTo(first.line().positions().get(0));
    assertThat(run("course", "track", "--centre", "north", "--bearing", "0"))
        .isEqualTo(Exit.WRONG_USE);
    assertThat(run("course", "track", "--centre", "1,2", "--bearing", "0", "--lane", "12"))
        .isEqualTo(Exit.WRONG_USE);
  }

  @Test
  void aMeasurementBecomesTheNextVersionOfACourse() throws IOException {
    run("course", "track", "--centre", "10,20", "--bearing", "0");
    Path file = Files.writeString(folder.resolve("track.geojson"), out.toString());
    assertThat(run("course", "sheet", sheet(WHEEL), "--into", file.toString()))
        .as("without a reason")
        .isEqualTo(Exit.WRONG_USE);
    assertThat(run("course", "sheet", sheet(WHEEL), "--into", file.toString(), "--why", "wheeled"))
        .isEqualTo(Exit.DONE);
    ReferenceCourse next = course(out.toString());
    assertThat(next.measuredLengthM()).isCloseTo(400, within(1e-9));
    assertThat(next.change().orElseThrow().reason()).isEqualTo("wheeled");
    assertThat(next.fieldSheet()).isPresent();
    // The sheet in the file recomputes its length: without that the reader would have said so.
    assertThat(run("course", "check", Files.writeString(file, CourseFile.write(next)).toString()))
        .isEqualTo(Exit.DONE);
    assertThat(out.toString()).doesNotContain("field sheet");
  }

  @Test
  void theBudgetIsHandedOutAsCsv() throws IOException {
    assertThat(run("course", "sheet", "--csv", sheet(WHEEL))).isEqualTo(Exit.DONE);
    List<String> lines = out.toString().lines().toList();
    assertThat(lines.get(0)).startsWith("contribution,standard_uncertainty_m");
    double shares =
        lines.stream().skip(1).mapToDouble(l -> Double.parseDouble(l.split(",")[2])).sum();
    assertThat(shares).isCloseTo(1, within(1e-9));
  }

  @Test
  void aDrawnLineOfAnyFormatAndRecordingsMakeACourse() throws IOException {
    run("course", "track", "--centre", "10,20", "--bearing", "0");
    String drawn = out.toString();
    ReferenceCourse track = course(drawn);
    StringBuilder json = new StringBuilder("{\"type\":\"LineString\",\"coordinates\":[");
    StringBuilder kml = new StringBuilder("<kml><Placemark><LineString><coordinates>");
    StringBuilder gpx = new StringBuilder("<gpx version=\"1.1\"><trk><trkseg>");
    for (Position p : track.line().positions()) {
      json.append("[" + p.longitudeDeg() + "," + p.latitudeDeg() + "],");
      kml.append(p.longitudeDeg()).append(',').append(p.latitudeDeg()).append(' ');
      gpx.append("<trkpt lat=\"" + p.latitudeDeg() + "\" lon=\"" + p.longitudeDeg() + "\"/>");
    }
    kml.append("</coordinates></LineString></Placemark></kml>");
    gpx.append("</trkseg></trk></gpx>");
    json.setCharAt(json.length() - 1, ']');
    json.append('}');
    String geojson = Files.writeString(folder.resolve("line.geojson"), json).toString();
    String kmlFile = Files.writeString(folder.resolve("line.kml"), kml).toString();
    String gpxFile = Files.writeString(folder.resolve("line.gpx"), gpx).toString();
    // rte and rtept as in the GPX 1.1 schema documentation; waypoints beside them are no line.
    String routed =
        gpx.toString()
            .replace("<trk><trkseg>", "<wpt lat=\"1\" lon=\"1\"/><rte><name>drawn</name>")
            .replace("trkpt", "rtept")
            .replace("</trkseg></trk>", "</rte>");
    String route = Files.writeString(folder.resolve("route.gpx"), routed).toString();
    for (String file : List.of(geojson, kmlFile, gpxFile, route)) {
      assertThat(run("course", "draft", file, "--length", "400 m", "--tolerance", "0"))
          .as(file + err)
          .isEqualTo(Exit.DONE);
      ReferenceCourse made = course(out.toString());
      assertThat(made.closed()).as(file).isTrue();
      assertThat(made.line().positions()).as(file).hasSameSizeAs(track.line().positions());
    }
    assertThat(run("course", "draft", geojson, kmlFile, "--length", "400 m"))
        .as("one drawn line makes a course by itself")
        .isEqualTo(Exit.FINDINGS);
    assertThat(run("course", "draft", geojson, "--length", "410 m")).isEqualTo(Exit.FINDINGS);
    assertThat(err.toString()).contains("410.0 m");
    String off = routed.replaceFirst("<rtept lat=\"[^\"]*\"", "<rtept lat=\"north\"");
    String broken = Files.writeString(folder.resolve("broken.gpx"), off).toString();
    assertThat(run("course", "draft", broken, "--length", "400 m")).isEqualTo(Exit.FINDINGS);
    assertThat(err.toString()).contains("broken.gpx: 1 of its route points has no position");
    String two = routed.replace("</rte>", "</rte><rte><rtept lat=\"1\" lon=\"1\"/></rte>");
    String both = Files.writeString(folder.resolve("two.gpx"), two).toString();
    assertThat(run("course", "draft", both, "--length", "400 m")).isEqualTo(Exit.FINDINGS);
    assertThat(err.toString()).contains("one drawn line makes a course by itself");
  }
}
