package milewarden.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import milewarden.course.ReferenceCourse;
import milewarden.course.StandardTrack;
import milewarden.format.CourseFile;
import milewarden.format.GpxWriter;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class MeasureCommandTest {
  private static final Position SEA = new Position(46.5, -31.5);
  private static final double QUARTER_MILE_M = 402.336; // 0.25 x 1609.344
  private static final ReferenceCourse QUARTER =
      InventedCourse.straight("quarter-mile", SEA, 63, QUARTER_MILE_M);
  private static final ReferenceCourse LAP =
      InventedCourse.of("lap", "Lap", true, new StandardTrack(SEA, 30, 1).line(100).positions());

  @TempDir Path folder;

  private record Answer(int exit, String out, String err) {
    JsonNode json() throws IOException {
      return new ObjectMapper().readTree(out);
    }
  }

  private static Answer run(Object... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] words = new String[args.length];
    for (int i = 0; i < args.length; i++) words[i] = args[i].toString();
    int exit = Milewarden.run(Map.of(), new PrintWriter(out), new PrintWriter(err), words);
    return new Answer(exit, out.toString(), err.toString());
  }

  private Path course(ReferenceCourse course) throws IOException {
    return Files.writeString(folder.resolve(course.slug() + ".geojson"), CourseFile.write(course));
  }

  private Path track(String name, Walk walk, Receiver receiver) throws IOException {
    var made = TrackSimulator.simulate(walk, receiver, Sky.CLEAR, 7);
    Path file = folder.resolve(name);
    Files.writeString(file, GpxWriter.write(made.track()));
    return file;
  }

  private Path quarter;
  private Path walked;

  @BeforeEach
  void files() throws IOException {
    quarter = course(QUARTER);
    walked =
        track(
            "walk.gpx", Walk.of(QUARTER).withStanding(20), Receiver.PERFECT.withNoise(2, 20, 0.3));
  }

  /** The usual line is read without the library; written otherwise, by it. */
  @Test
  void howTheLineIsWrittenChangesNothing() {
    Object[][] lines = {
      {"--shown", "0.25 mi"}, {"--json"}, {"--units", "mi"}, {"--json", "--shown", "0.25 mi"}, {}
    };
    for (Object[] options : lines) {
      List<Object> line = new ArrayList<>(List.of("measure", walked, "--course", quarter));
      line.addAll(List.of(options));
      Answer plain = run(line.toArray());
      assertThat(plain.out).isNotEmpty();
      line.addAll(List.of("--gait", "walk"));
      assertThat(run(line.toArray())).isEqualTo(plain);
    }
    Path none = folder.resolve("none");
    Answer plain = run("measure", walked, "--course", none);
    assertThat(plain.exit).isEqualTo(Exit.FAILURE);
    assertThat(plain.err).startsWith("milewarden: measure: " + none);
    assertThat(run("measure", walked, "--course=" + none)).isEqualTo(plain);
  }

  private JsonNode pass(Answer answer) throws IOException {
    JsonNode passes = answer.json().at("/tracks/0/passes");
    assertThat(passes).hasSize(1);
    return passes.get(0);
  }

  @Test
  void theAnswerHasExactlyTheFieldsOfTheContract() throws IOException {
    Answer a = run("measure", walked, "--course", quarter, "--json");
    assertThat(a.exit).isZero();
    assertThat(names(a.json())).containsExactly("engineVersion", "course", "tracks");
    assertThat(names(a.json().get("course")))
        .containsExactly("slug", "version", "lengthM", "standardUncertaintyM", "closed");
    JsonNode track = a.json().at("/tracks/0");
    assertThat(names(track))
        .containsExactly(
            "file",
            "format",
            "sha256",
            "fixes",
            "startedAt",
            "recording",
            "device",
            "trackLengthM",
            "recordedLengthM",
            "passes",
            "problems");
    assertThat(names(track.get("recording")))
        .containsExactly("medianIntervalS", "p95IntervalS", "gaps", "repairs");
    assertThat(names(track.get("device"))).containsExactly("name", "code", "serial", "software");
    assertThat(names(pass(a)))
        .containsExactly(
            "index",
            "direction",
            "bounds",
            "laps",
            "startedAt",
            "durationS",
            "onCourse",
            "distance",
            "error",
            "terms",
            "offset",
            "noise",
            "fingerprints",
            "ascent");
    assertThat(names(pass(a).get("distance")))
        .containsExactly("referenceM", "trackM", "recordedM", "horizontalReferenceM", "shownM");
    assertThat(names(pass(a).at("/distance/shownM"))).containsExactly("asRead", "low", "high");
    assertThat(names(pass(a).get("error")))
        .containsExactly("trackPercent", "recordedPercent", "shownPercent");
    assertThat(names(pass(a).get("terms")))
        .containsExactly(
            "slopeM",
            "endsM",
            "lineM",
            "backtrackM",
            "weaveM",
            "bendM",
            "chordM",
            "sourceM",
            "indicationM");
    assertThat(names(pass(a).get("offset")))
        .containsExactly(
            "meanM",
            "robustSigmaM",
            "rmsM",
            "medianAbsM",
            "p95AbsM",
            "maxAbsM",
            "correlationTimeS",
            "halfWidth95",
            "interval95");
    assertThat(track.get("startedAt").asText()).endsWith("Z");
  }

  private static List<String> names(JsonNode node) {
    List<String> names = new ArrayList<>();
    node.fieldNames().forEachRemaining(names::add);
    return names;
  }

  @Test
  void theTermsAddUpToTheMicrometre() throws IOException {
    Answer a = run("measure", walked, "--course", quarter, "--json", "--shown", "0.27 mi");
    JsonNode distance = pass(a).get("distance");
    JsonNode terms = pass(a).get("terms");
    double r = distance.get("referenceM").doubleValue();
    double s = distance.get("trackM").doubleValue();
    double h = distance.get("horizontalReferenceM").doubleValue();
    double sum = 0;
    for (String t : List.of("endsM", "lineM", "backtrackM", "weaveM", "bendM", "chordM"))
      sum += terms.get(t).doubleValue();
    assertThat(sum).isCloseTo(s - h, within(1e-6));
    assertThat(terms.get("slopeM").doubleValue()).isCloseTo(h - r, within(1e-6));
    assertThat(pass(a).at("/error/trackPercent").doubleValue())
        .isCloseTo(100 * (s - h) / h, within(1e-9));
    double below = distance.get("recordedM").isNull() ? s : distance.get("recordedM").doubleValue();
    for (String end : List.of("low", "high"))
      assertThat(terms.at("/indicationM/" + end).doubleValue())
          .isCloseTo(distance.at("/shownM/" + end).doubleValue() - below, within(1e-6));
  }

  @Test
  void aQuarterMileThatReads027Is1056FeetLong() throws IOException {
    // Common practice, no source: 0.27 mi on 1,320 ft is as read 105.6 ft long, 8 %.
    Answer a =
        run(
            "measure",
            walked,
            "--course",
            quarter,
            "--json",
            "--shown",
            "0.27 mi",
            "--shown-step",
            "0.01",
            "--rounding",
            "truncated",
            "--bounds",
            "marks");
    JsonNode d = pass(a).get("distance");
    double feet =
        (d.at("/shownM/asRead").doubleValue() - d.get("referenceM").doubleValue()) / 0.3048;
    // The course file holds positions to their last digit and the length as given.
    assertThat(feet).isCloseTo(105.6, within(1e-6));
    assertThat(pass(a).at("/error/shownPercent/asRead").doubleValue()).isCloseTo(8, within(1e-9));
    // Cut off: the distance lies between 0.27 and 0.28 mi; one step is 4 % of the course.
    assertThat(pass(a).at("/error/shownPercent/low").doubleValue()).isCloseTo(8, within(1e-9));
    assertThat(pass(a).at("/error/shownPercent/high").doubleValue()).isCloseTo(12, within(1e-9));
  }

  @Test
  void withTheRuleUnknownTheIntervalIsHalfAStepDownAndAStepUp() throws IOException {
    // Common practice, no source: a display that reads 0.24 may be about to turn to 0.25.
    Answer a = run("measure", walked, "--course", quarter, "--json", "--shown", "0.24 mi");
    JsonNode shown = pass(a).at("/error/shownPercent");
    assertThat(shown.get("asRead").doubleValue()).isCloseTo(-4, within(1e-9));
    assertThat(shown.get("low").doubleValue()).isCloseTo(-6, within(1e-9));
    assertThat(shown.get("high").doubleValue()).isCloseTo(0, within(1e-9));
    assertThat(a.out).contains("display-too-coarse");
  }

  @Test
  void oneBadTrackDoesNotStopTheOthersAndEntriesKeepTheirOrder() throws IOException {
    Path junk = Files.writeString(folder.resolve("junk.gpx"), "hello");
    Path missing = folder.resolve("missing.gpx");
    Path elsewhere =
        track(
            "elsewhere.gpx",
            Walk.of(InventedCourse.straight("far", new Position(46.7, -31.5), 10, 400)),
            Receiver.PERFECT);
    Answer a = run("measure", junk, walked, missing, elsewhere, "--course", quarter, "--json");
    assertThat(a.exit).isEqualTo(1);
    JsonNode tracks = a.json().get("tracks");
    assertThat(tracks).hasSize(4);
    assertThat(tracks.at("/0/problems/0/code").asText()).isEqualTo("not-a-track");
    assertThat(tracks.at("/0/fixes").asInt()).isZero();
    assertThat(tracks.at("/1/passes")).hasSize(1);
    assertThat(tracks.at("/2/problems/0/message").asText()).contains("no such file");
    assertThat(tracks.at("/3/passes")).isEmpty();
    assertThat(tracks.at("/3/problems/0/code").asText()).isEqualTo("no-course");
    assertThat(tracks.at("/3/fixes").asInt()).isGreaterThan(100);
    assertThat(tracks.at("/3/trackLengthM").doubleValue()).isCloseTo(400, within(0.01));
  }

  @Test
  void aTableIsReadWithWhatItsColumnsAreSaidToBe() throws IOException {
    Track made = TrackSimulator.simulate(Walk.of(QUARTER), Receiver.PERFECT, Sky.CLEAR, 7).track();
    StringBuilder text = new StringBuilder("time,lat,lon,Distance\n");
    for (int i = 0; i < made.size(); i++)
      text.append(java.time.Instant.ofEpochMilli(made.timesMs()[i]))
          .append("," + made.latitudesDeg()[i] + "," + made.longitudesDeg()[i] + ",")
          .append(400.0 * i / (made.size() - 1))
          .append('\n');
    Path table = Files.writeString(folder.resolve("table.csv"), text);
    String recorded = "/tracks/0/passes/0/distance/recordedM";
    Answer silent = run("measure", table, "--course", quarter, "--json");
    assertThat(silent.json().at(recorded).isNumber()).isFalse();
    double metres =
        run("measure", table, "--course", quarter, "--json", "--columns", "4=m")
            .json()
            .at(recorded)
            .doubleValue();
    double feet =
        run("measure", table, "--course", quarter, "--json", "--columns", "4=ft")
            .json()
            .at(recorded)
            .doubleValue();
    assertThat(metres).isGreaterThan(100);
    // The international foot is 0.3048 m, exactly: NIST SP 811.
    assertThat(feet / metres).isCloseTo(0.3048, within(1e-12));
  }

  @Test
  void aFileThatIsTooLargeForTheMemoryIsReadAsAStreamAndRefused() throws IOException {
    Path large = folder.resolve("large.gpx");
    byte[] comment =
        "never ending, ".repeat(1 << 16).getBytes(java.nio.charset.StandardCharsets.US_ASCII);
    try (var out = Files.newOutputStream(large)) {
      out.write("<gpx><!--".getBytes(java.nio.charset.StandardCharsets.US_ASCII));
      for (int i = 0; i < 80; i++) out.write(comment);
    }
    assertThat(Files.size(large)).isGreaterThan(64 << 20);
    Answer a = run("measure", large, "--course", quarter, "--json");
    assertThat(a.exit).isEqualTo(1);
    assertThat(a.json().at("/tracks/0/problems/0/code").asText()).isEqualTo("too-large");
  }

  @Test
  void wrongUseIsOneLineAndExitCode2() {
    for (Object[] args :
        new Object[][] {
          {"measure", walked},
          {"measure", walked, walked, "--course", quarter, "--shown", "0.27 mi"},
          {"measure", walked, "--course", quarter, "--shown", "far"},
          {"measure", walked, "--course", quarter, "--shown", "1 mi", "--shown-step", "0"},
          {"measure", walked, "--course", quarter, "--bounds", "fences"},
          {"measure", walked, "--course", quarter, "--columns", "distance"},
          {"measure", walked, "--course", quarter, "--rounding", "sideways"}
        }) {
      Answer a = run(args);
      assertThat(a.exit).as(a.err).isEqualTo(2);
      assertThat(a.err.lines()).hasSize(1);
      assertThat(a.out).isEmpty();
    }
  }

  @Test
  void aCourseThatIsRefusedIsSaidWithItsPlace() throws IOException {
    Path bad = Files.writeString(folder.resolve("bad.geojson"), "{\n oops");
    Answer measured = run("measure", walked, "--course", bad);
    assertThat(measured.exit).isEqualTo(3);
    assertThat(measured.err).contains("bad.geojson").containsIgnoringCase("line 2");
    Answer checked = run("course", "check", bad);
    assertThat(checked.exit).isEqualTo(1);
    assertThat(checked.err).contains("bad.geojson");
    assertThat(run("course", "check", folder.resolve("none.geojson")).exit).isEqualTo(3);
  }

  @Test
  void peopleGetATableAndTheLadder() throws IOException {
    Answer a = run("measure", walked, "--course", quarter, "--shown", "0.27 mi");
    assertThat(a.exit).isZero();
    assertThat(a.out)
        .contains("quarter-mile", "walk.gpx", "Pass 1", "reference", "402.3 m", "shown, as read")
        .contains("434.5 m", "+8.00 %", "+80 m per km")
        .doesNotContain("NaN", "null", "Optional");
    assertThat(a.out.lines()).allSatisfy(l -> assertThat(l).isEqualTo(l.stripTrailing()));
  }

  @Test
  void positionsAreHeldAgainstAReferenceTrack() throws IOException {
    // The same walk, the same seed, by a receiver without error.
    Path without = track("true.gpx", Walk.of(QUARTER).withStanding(20), Receiver.PERFECT);
    Answer a = run("measure", walked, "--course", quarter, "--reference-track", without, "--json");
    assertThat(a.exit).as(a.err).isZero();
    JsonNode r = a.json().at("/tracks/0/referenceTrack");
    assertThat(names(r))
        .containsExactly(
            "epochs",
            "unmatched",
            "indicative",
            "meanEastM",
            "meanNorthM",
            "rmseEastM",
            "rmseNorthM",
            "rmseM",
            "cep50M",
            "r95M",
            "largestM",
            "nssda95M",
            "clockDifferenceS",
            "perEpoch");
    assertThat(r.get("epochs").asInt()).isEqualTo(a.json().at("/tracks/0/fixes").asInt());
    assertThat(r.get("perEpoch")).hasSize(r.get("epochs").asInt());
    assertThat(r.get("indicative").asBoolean()).isFalse();
    // Identities of the definitions.
    double east = r.get("rmseEastM").doubleValue();
    double north = r.get("rmseNorthM").doubleValue();
    assertThat(r.get("rmseM").doubleValue()).isCloseTo(Math.hypot(east, north), within(1e-9));
    assertThat(r.at("/nssda95M/unlike").doubleValue())
        .isCloseTo(2.4477 * (east + north) / 2, within(1e-9));
    double squares = 0;
    for (JsonNode e : r.get("perEpoch")) squares += Math.pow(e.get("horizontalM").doubleValue(), 2);
    assertThat(Math.sqrt(squares / r.get("epochs").asInt()))
        .isCloseTo(r.get("rmseM").doubleValue(), within(1e-9));
    // The simulator was told 2 m that last and 0.3 m that do not, per axis; few independent ones.
    assertThat(r.get("rmseM").doubleValue()).isBetween(1.0, 6.0);
    Answer people = run("measure", walked, "--course", quarter, "--reference-track", without);
    assertThat(people.out)
        .contains("Positions against the reference track", "RMSE", "CEP50", "R95", "NSSDA 95 %")
        .contains("positions were compared")
        .doesNotContain("NaN", "null", "Optional");
  }

  @Test
  void aReferenceTrackThatIsOfNoUseIsSaid() throws IOException {
    Path junk = Files.writeString(folder.resolve("junk.gpx"), "hello");
    Answer a = run("measure", walked, "--course", quarter, "--reference-track", junk);
    assertThat(a.exit).isEqualTo(3);
    assertThat(a.err.lines()).hasSize(1);
    assertThat(a.err).contains("junk.gpx");
    Path later = folder.resolve("later.gpx");
    Files.writeString(later, Files.readString(walked).replaceAll("<time>20\\d\\d", "<time>2019"));
    Answer b = run("measure", walked, "--course", quarter, "--reference-track", later, "--json");
    assertThat(b.exit).isEqualTo(1);
    assertThat(b.json().at("/tracks/0/referenceTrack").isNull()).isTrue();
    assertThat(b.json().at("/tracks/0/problems").toString()).contains("no-common-time");
    // The pass is measured all the same.
    assertThat(b.json().at("/tracks/0/passes")).hasSize(1);
  }

  @Test
  void aDraftedCourseIsUsableAndItsOwnTrackIsWarnedAbout() throws IOException {
    Path lap = track("my lap.gpx", Walk.of(LAP), Receiver.PERFECT.withNoise(2, 20, 0.3));
    Path drafted = folder.resolve("drafted.geojson");
    Answer draft = run("course", "draft", lap, "--length", "400 m", "-o", drafted);
    assertThat(draft.exit).as(draft.err).isZero();
    assertThat(draft.err).contains("closed").contains("proves nothing");
    Answer check = run("course", "check", drafted);
    assertThat(check.exit).isZero();
    assertThat(check.out).contains("my-lap", "usable");
    assertThat(run("measure", lap, "--course", drafted, "--json").out).contains("own-draft");
    Answer again = run("course", "draft", lap, "--length", "400 m", "-o", drafted);
    assertThat(again.exit).isEqualTo(3);
    assertThat(again.err).contains("already");
    assertThat(run("course", "draft", lap, "--length", "0.5 mi").exit).isEqualTo(1);
    assertThat(run("course", "draft", lap, "--length", "wide").exit).isEqualTo(2);
  }
}
