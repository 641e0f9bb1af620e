package milewarden.intake;

import static milewarden.intake.Tester.HANDS;
import static milewarden.intake.Tester.LOOP;
import static milewarden.intake.Tester.PIER;
import static milewarden.intake.Tester.walk;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.intake.drop.Upload;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Walk;
import milewarden.store.Id.FileId;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.judged.Marks;
import milewarden.store.run.Firmware;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import milewarden.verdict.PassEvidence.Exclusion;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The rules of tags, sheets, sessions and outcomes, on tracks whose truth is known. */
final class MeasuringTest {
  private static final String HEAD =
      "session,date,file,pass,unit,firmware,course,carriage,gait,shown,shown_unit,excluded_reason\n";

  @TempDir Path data;
  private Tester tester;

  @BeforeEach
  void open() {
    tester = new Tester(data, HANDS);
    tester.course(PIER);
  }

  @AfterEach
  void close() {
    tester.close();
  }

  @Test
  void aTrackInFoldersIsMeasuredOnTheCourseOfItsPositionsAndEachTagNamesItsSource() {
    Received row = tester.drop("K1/1.0/swing-left/a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    assertThat(row.reason()).isEmpty();
    assertThat(row.state()).isEqualTo(State.MEASURED);
    Runs.Run run = tester.run(row.id());
    assertThat(run.unitName()).isEqualTo("K1");
    assertThat(run.modelName()).isEqualTo("K1");
    assertThat(run.firmware()).isEqualTo("1.0");
    assertThat(run.facts().carriage()).isEqualTo(Carriage.SWING_LEFT);
    assertThat(run.facts().gait()).isEqualTo(Gait.WALK);
    assertThat(run.facts().startedAt()).isEqualTo(Instant.parse("2026-05-12T07:00:00Z"));
    assertThat(tester.tag(row.id(), TagName.UNIT).orElseThrow().source())
        .isEqualTo(TagSource.FOLDER);
    assertThat(tester.tag(row.id(), TagName.COURSE).orElseThrow().source())
        .isEqualTo(TagSource.RECOGNISED);
    assertThat(tester.tag(row.id(), TagName.GAIT).orElseThrow().source())
        .isEqualTo(TagSource.DEFAULT);
    Results.Summary pass = tester.passes(run).get(0);
    assertThat(pass.distances().referenceM()).isCloseTo(400, within(1e-6));
    assertThat(tester.database.read(Marks::count)).isEqualTo(1);
  }

  @Test
  void aNewFirmwareIsDatedByItsFirstSessionAndMarkedAssumed() {
    tester.drop("K1/1.0/a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    Runs.Run run =
        tester.run(tester.drop("K1/1.0/b.gpx", walk(PIER, "2026-05-10T07:00:00Z", 2)).id());
    Firmware.Known known =
        tester.database.read(tx -> Firmware.find(tx, run.facts().firmware())).orElseThrow();
    assertThat(known.release().date()).isEqualTo(LocalDate.of(2026, 5, 10));
    assertThat(known.release().assumed()).isTrue();
  }

  @Test
  void aTrackWithoutItsTagsWaitsForJustThoseAndIsMeasuredWhenTheyAreGiven() {
    Received row = tester.drop("a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    assertThat(row.state()).isEqualTo(State.WAITING);
    assertThat(row.missing()).contains(TagName.FIRMWARE).doesNotContain(TagName.GAIT);
    Map<TagName, String> edit = Map.of(TagName.UNIT, "K7", TagName.FIRMWARE, "3.1");
    TagForm form = new TagForm(tester.database, tester.measuring::work);
    assertThat(form.apply(List.of(row.id()), edit)).isEmpty();
    assertThat(tester.row(row.id()).state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(row.id()).unitName()).isEqualTo("K7");
    assertThat(tester.tag(row.id(), TagName.UNIT).orElseThrow().source()).isEqualTo(TagSource.EDIT);
  }

  @Test
  void aTrackThatFitsBothDirectionsWaitsForTheDirectionAlone() {
    // Out and back a hundredth of a millimetre apart: no receiver tells.
    ReferenceCourse path =
        InventedCourse.of(
            "path",
            "path",
            false,
            InventedCourse.laidOut(
                Tester.SOMEWHERE,
                List.of(
                    new double[] {3000, 0},
                    new double[] {3000, 400},
                    new double[] {3000.00001, 400},
                    new double[] {3000.00001, 0})));
    tester.course(path);
    Received row = tester.drop("K1/1.0/a.gpx", walk(path, "2026-05-12T07:00:00Z", 1));
    assertThat(row.state()).isEqualTo(State.WAITING);
    assertThat(row.missing()).containsExactly(TagName.DIRECTION);
    assertThat(row.reason().orElseThrow().sentence()).contains("forward or reverse");
    TagForm form = new TagForm(tester.database, tester.measuring::work);
    assertThat(form.apply(List.of(row.id()), Map.of(TagName.DIRECTION, "reverse"))).isEmpty();
    assertThat(tester.row(row.id()).state()).isEqualTo(State.MEASURED);
    assertThat(tester.passes(tester.run(row.id())).get(0).direction()).isEqualTo(Direction.REVERSE);
  }

  @Test
  void aFormThatHoldsAWrongWordChangesNothing() {
    Received row = tester.drop("a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    TagForm form = new TagForm(tester.database, tester.measuring::work);
    List<TagForm.Problem> problems =
        form.apply(
            List.of(row.id()),
            Map.of(TagName.UNIT, "K7", TagName.CARRIAGE, "on the hat", TagName.COURSE, "nowhere"));
    assertThat(problems)
        .extracting(TagForm.Problem::name)
        .containsExactlyInAnyOrder(TagName.CARRIAGE, TagName.COURSE);
    assertThat(tester.tag(row.id(), TagName.UNIT))
        .matches(t -> t.isEmpty() || t.get().source() != TagSource.EDIT);
  }

  @Test
  void aSheetSpeaksForItsTracksWhetherItComesBeforeOrAfterAndWhenItIsRevised() {
    String sheet = HEAD + "S1,2026-05-12,a.gpx,,K1,1.0,pier,hand,run,0.25,mi,\n";
    tester.drop("day/session.csv", sheet);
    Received a = tester.drop("day/a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    assertThat(a.state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(a.id()).facts().gait()).isEqualTo(Gait.RUN);
    assertThat(tester.run(a.id()).sessionName()).isEqualTo("S1");
    assertThat(tester.tag(a.id(), TagName.UNIT).orElseThrow().origin())
        .isEqualTo("session.csv, row 2");
    // 0.25 miles of 1,609.344 m each for 400 m: NIST SP 811, appendix B.
    assertThat(shown(a)).isCloseTo(100 * (0.25 * 1609.344 - 400) / 400, within(1e-6));

    Received b = tester.drop("later/b.gpx", walk(PIER, "2026-05-13T07:00:00Z", 2));
    assertThat(b.state()).isEqualTo(State.WAITING);
    tester.drop("later/session.csv", sheet.replace("S1,2026-05-12,a.gpx", "S2,2026-05-13,b.gpx"));
    assertThat(tester.row(b.id()).state()).isEqualTo(State.MEASURED);

    tester.drop("day/session.csv", sheet.replace("0.25", "0.26"));
    assertThat(shown(tester.row(a.id())))
        .isCloseTo(100 * (0.26 * 1609.344 - 400) / 400, within(1e-6));
    assertThat(tester.runs()).hasSize(2);
  }

  private double shown(Received file) {
    return tester.passes(tester.run(file.id())).get(0).errors().shownAsReadPercent().orElseThrow();
  }

  @Test
  void severalRowsOfOneFileAreItsPassesInOrder() {
    tester.course(LOOP);
    Walk laps =
        Walk.of(LOOP).withLaps(2).withGates(30).withStart(Instant.parse("2026-05-12T07:00:00Z"));
    tester.drop(
        "session.csv",
        HEAD
            + "S1,2026-05-12,a.gpx,2,K1,1.0,loop,hand,walk,0.42,km,device-fault\n"
            + "S1,2026-05-12,a.gpx,1,K1,1.0,loop,hand,walk,0.41,km,\n");
    Received a = tester.drop("a.gpx", walk(laps, 3));
    assertThat(a.state()).isEqualTo(State.MEASURED);
    List<Results.Summary> passes = tester.passes(tester.run(a.id()));
    assertThat(passes)
        .extracting(p -> p.distances().shownAsReadM().orElseThrow())
        .containsExactly(410.0, 420.0);
    assertThat(passes.get(0).exclusion()).isEmpty();
    assertThat(passes.get(1).exclusion().orElseThrow().reason())
        .isEqualTo(Exclusion.Reason.DEVICE_FAULT);
  }

  @Test
  void aRowWithoutAFileIsARunThatCountsAndARevisionCountsNothingTwice() {
    String sheet = HEAD + "S1,2026-05-12,,1,K1,1.0,pier,hand,walk,0.25,mi,\n";
    tester.drop("session.csv", sheet);
    assertThat(tester.runs()).hasSize(1);
    tester.drop("session.csv", sheet.replace("0.25", "0.24"));
    assertThat(tester.runs()).hasSize(1);
    Results.Summary pass = tester.passes(tester.runs().get(0)).get(0);
    assertThat(pass.distances().shownAsReadM().orElseThrow())
        .isCloseTo(0.24 * 1609.344, within(1e-9));
    assertThat(pass.errors().trackPercent()).isEmpty();
  }

  @Test
  void aRunThatTheDeviceFailedCountsAsItsReliabilityThoughItShowsNothing() {
    tester.drop(
        "session.csv",
        HEAD
            + "S1,2026-05-12,,1,K1,1.0,pier,hand,walk,0.25,mi,\n"
            + "S1,2026-05-12,,2,K1,1.0,pier,hand,walk,,,crash\n"
            + "S1,2026-05-12,,3,K1,1.0,pier,hand,walk,,,no fix\n"
            + "S1,2026-05-12,,4,K1,1.0,pier,hand,walk,,,lost-file\n"
            + "S1,2026-05-12,,5,K1,1.0,pier,hand,walk,0.30,mi,interrupted\n");
    assertThat(tester.runs()).hasSize(5);
    var model = tester.database.read(milewarden.store.run.Models::all).get(0);
    var reliability =
        tester.database.read(tx -> milewarden.store.run.Reliabilities.of(tx, model.id())).get(0);
    assertThat(reliability.runs()).isEqualTo(5);
    assertThat(reliability.failed()).isEqualTo(3);
    assertThat(reliability.faults())
        .containsEntry(Exclusion.Reason.CRASH, 1)
        .containsEntry(Exclusion.Reason.NO_FIX, 1)
        .containsEntry(Exclusion.Reason.LOST_FILE, 1);
  }

  @Test
  void aRowWhoseTrackTurnsUpLaterCountsOnce() {
    String sheet = HEAD + "S1,2026-05-12,,1,K1,1.0,pier,hand,walk,0.25,mi,\n";
    tester.drop("session.csv", sheet);
    tester.receive("a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    tester.drop("session.csv", sheet.replace("2026-05-12,,", "2026-05-12,a.gpx,"));
    assertThat(tester.runs().stream().filter(r -> r.heldFor().isEmpty())).hasSize(1);
  }

  @Test
  void aRowThatLacksSomethingIsSaidAndTheOthersCount() {
    Received sheet =
        tester.drop(
            "session.csv",
            HEAD
                + "S1,2026-05-12,,1,K1,,pier,hand,walk,0.25,mi,\n"
                + "S1,2026-05-12,,1,K2,1.0,pier,hand,walk,0.25,mi,\n");
    assertThat(tester.runs()).extracting(Runs.Run::unitName).containsExactly("K2");
    assertThat(sheet.reason().orElseThrow().sentence()).contains("Row 2", "firmware");
  }

  @Test
  void theSameBytesMakeNoSecondRunAndOfferTheirTags() {
    byte[] track = walk(PIER, "2026-05-12T07:00:00Z", 1);
    Received first = tester.drop("K1/1.0/a.gpx", track);
    Received copy = tester.drop("K2/1.0/b.gpx", track);
    assertThat(copy.state()).isEqualTo(State.DUPLICATE);
    assertThat(tester.runs()).hasSize(1);
    assertThat(tester.tag(copy.id(), TagName.UNIT).orElseThrow().value()).isEqualTo("K2");
    assertThat(others(copy)).containsExactly(Map.entry(TagName.UNIT, "K2"));
    new TagForm(tester.database, tester.measuring::work).adopt(copy.id());
    assertThat(tester.run(first.id()).unitName()).isEqualTo("K2");
    assertThat(others(copy)).isEmpty();
    assertThat(tester.runs()).hasSize(1);
  }

  private Map<TagName, String> others(Received copy) {
    return tester.database.read(tx -> TagForm.others(tx, copy));
  }

  @Test
  void aFolderThatIsDroppedAgainElsewhereLeavesItsRunsAsTheyAre() {
    byte[] track = walk(PIER, "2026-05-12T07:00:00Z", 1);
    String sheet = HEAD + "S1,2026-05-12,a.gpx,1,K1,1.0,pier,hand,walk,0.25,mi,\n";
    tester.drop("day/session.csv", sheet);
    Received first = tester.drop("day/a.gpx", track);
    assertThat(first.state()).isEqualTo(State.MEASURED);
    // The sheet goes first, or last.
    tester.drop("copy/session.csv", sheet);
    assertThat(tester.drop("copy/a.gpx", track).state()).isEqualTo(State.DUPLICATE);
    tester.measuring.work();
    assertThat(tester.row(first.id()).state()).isEqualTo(State.MEASURED);
    tester.drop("last/a.gpx", track);
    tester.drop("last/session.csv", sheet);
    tester.measuring.work();
    assertThat(tester.row(first.id()).state()).isEqualTo(State.MEASURED);
    assertThat(tester.runs()).hasSize(1);
    assertThat(tester.tag(first.id(), TagName.UNIT).orElseThrow().value()).isEqualTo("K1");
    // What the newest copy of the sheet says holds.
    tester.drop("last/session.csv", sheet.replace("hand,walk", "hand,run"));
    tester.measuring.work();
    assertThat(tester.tag(first.id(), TagName.GAIT).orElseThrow().value()).isEqualTo("run");
    // Another recording by that path is what its row is about from then on.
    Received other = tester.drop("last/a.gpx", walk(PIER, "2026-05-12T08:00:00Z", 2));
    assertThat(other.state()).isEqualTo(State.MEASURED);
    assertThat(tester.runs()).hasSize(2);
  }

  @Test
  void aFileThatIsNoTrackIsRefusedInWordsAndTheOthersGoOn() {
    FileId bad = tester.receive("K1/1.0/bad.gpx", "no track at all");
    Received good = tester.drop("K1/1.0/a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    assertThat(tester.row(bad).state()).isEqualTo(State.REFUSED);
    assertThat(tester.row(bad).reason().orElseThrow().sentence()).isNotBlank();
    assertThat(good.state()).isEqualTo(State.MEASURED);
  }

  @Test
  void aTrackOnNoCourseIsRefusedWithTheNearestAndMeasuredWhenItsCourseComes() {
    Received row = tester.drop("K1/1.0/a.gpx", walk(LOOP, "2026-05-12T07:00:00Z", 1));
    assertThat(row.state()).isEqualTo(State.REFUSED);
    assertThat(row.reason().orElseThrow().code()).isEqualTo("no-course");
    assertThat(row.reason().orElseThrow().sentence()).contains("pier");
    tester.course(LOOP);
    tester.measuring.work();
    assertThat(tester.row(row.id()).state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(row.id()).facts().course()).isEqualTo("loop");
  }

  @Test
  void aCourseThatIsMeasuredAgainGivesNewResultsBesideTheOldOnes() {
    Received row = tester.drop("K1/1.0/a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    Runs.Run run = tester.run(row.id());
    String before = tester.database.read(tx -> Results.find(tx, run.id())).get().courseVersion();
    ReferenceCourse again = InventedCourse.measured("pier", "pier", false, PIER.line(), 401);
    tester.course(again);
    tester.measuring.work();
    Results.Measured now = tester.database.read(tx -> Results.find(tx, run.id())).orElseThrow();
    assertThat(now.courseVersion()).isNotEqualTo(before);
    assertThat(now.measurement().passes().get(0).distances().referenceM())
        .isCloseTo(401, within(1e-6));
    assertThat(tester.runs()).hasSize(1);
  }

  @Test
  void aCourseThatNobodyKnowsIsAskedFor() {
    tester.drop("session.csv", HEAD + "S1,2026-05-12,a.gpx,1,K1,1.0,quay,hand,walk,0.25,mi,\n");
    Received row = tester.drop("a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    assertThat(row.state()).isEqualTo(State.WAITING);
    assertThat(row.missing()).containsExactly(TagName.COURSE);
    assertThat(row.reason().orElseThrow().sentence()).contains("quay");
  }

  @Test
  void recordingsWithinThreeHoursAreOneSession() {
    Received a = tester.drop("K1/1.0/a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    Received b = tester.drop("K1/1.0/b.gpx", walk(PIER, "2026-05-12T09:59:00Z", 2));
    Received c = tester.drop("K1/1.0/c.gpx", walk(PIER, "2026-05-12T14:00:00Z", 3));
    assertThat(tester.run(b.id()).sessionName()).isEqualTo(tester.run(a.id()).sessionName());
    assertThat(tester.run(c.id()).sessionName()).isNotEqualTo(tester.run(a.id()).sessionName());
  }

  @Test
  void aPathThatIsUsedAgainTakesItsOwnSheet() {
    byte[] spring = walk(PIER, "2026-04-01T07:00:00Z", 1);
    byte[] summer = walk(PIER, "2026-07-01T07:00:00Z", 2);
    String row = ",a.gpx,1,K1,1.0,pier,hand,walk,0.25,mi,\n";
    tester.drop("session.csv", HEAD + "S1,2026-04-01" + row);
    Received first = tester.drop("a.gpx", spring);
    Received second = tester.drop("a.gpx", summer);
    assertThat(second.state()).isEqualTo(State.WAITING);
    tester.drop("session.csv", HEAD + "S2,2026-07-01" + row);
    assertThat(tester.run(first.id()).sessionName()).isEqualTo("S1");
    assertThat(tester.run(second.id()).sessionName()).isEqualTo("S2");
  }

  @Test
  void theSameRecordingTwiceUnderOneUnitCountsOnce() {
    byte[] track = walk(PIER, "2026-05-12T07:00:00Z", 1);
    Received first = tester.drop("K1/1.0/a.gpx", track);
    String text = new String(track, StandardCharsets.UTF_8);
    Received second = tester.drop("K1/1.0/b.gpx", text + "\n");
    assertThat(tester.run(second.id()).heldFor()).contains(tester.run(first.id()).id());
    Received third = tester.drop("K2/1.0/c.gpx", text + "\n\n");
    assertThat(tester.run(third.id()).heldFor()).isEmpty();
  }

  @Test
  void theSameRecordingInTwoFormatsCountsOnce() {
    byte[] gpx = walk(PIER, "2026-05-12T07:00:00Z", 1);
    Received first = tester.drop("K1/1.0/a.gpx", gpx);
    // The same fixes as a table, taken out of the markup by its text, not by our reader.
    Matcher fix =
        Pattern.compile("lat=\"(.*?)\" lon=\"(.*?)\".*?<time>(.*?)</time>")
            .matcher(new String(gpx, StandardCharsets.UTF_8));
    StringBuilder table = new StringBuilder("latitude,longitude,time\n");
    while (fix.find()) table.append(fix.group(1) + "," + fix.group(2) + "," + fix.group(3) + "\n");
    Received second = tester.drop("K1/1.0/a.csv", table.toString());
    assertThat(second.state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(second.id()).heldFor()).contains(tester.run(first.id()).id());
    assertThat(tester.runs().stream().filter(r -> r.heldFor().isEmpty())).hasSize(1);
  }

  @Test
  void anUploadIsStoredWhenItReturnsAndItsTagsHold() {
    Upload upload = new Upload(tester.database, tester.measuring::work);
    Upload.Taken taken =
        upload.take(
            "C:\\tracks\\..\\a\u202e.gpx",
            walk(PIER, "2026-05-12T07:00:00Z", 1),
            Map.of(TagName.UNIT, "K1", TagName.FIRMWARE, "1.0", TagName.GAIT, "run"));
    Received row = tester.row(taken.file());
    assertThat(row.path()).isEqualTo("a_.gpx");
    assertThat(row.leftInbox()).isTrue();
    assertThat(row.state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(row.id()).facts().gait()).isEqualTo(Gait.RUN);
    assertThat(taken.duplicate()).isFalse();
  }

  @Test
  void aRowThatWaitsForItsCourseCountsWhenTheCourseComes() {
    String sheet = HEAD + "S1,2026-05-12,,1,K1,1.0,loop,hand,walk,0.41,km,\n";
    Received row = tester.drop("session.csv", sheet);
    assertThat(tester.runs()).isEmpty();
    assertThat(row.reason().orElseThrow().sentence()).contains("loop");
    tester.course(LOOP);
    tester.measuring.work();
    assertThat(tester.runs()).hasSize(1);
    assertThat(tester.row(row.id()).reason()).isEmpty();
  }

  @Test
  void aSheetThatIsReadAgainTakesNothingBackThatALaterOneSaid() {
    String first = HEAD + "S1,2026-05-12,,1,K1,1.0,pier,hand,walk,0.41,km,\n";
    String waits = "S1,2026-05-12,,2,K1,1.0,loop,hand,walk,0.41,km,\n";
    tester.drop("session.csv", first + waits);
    tester.drop("session.csv", first.replace("0.41", "0.42"));
    tester.course(LOOP);
    tester.measuring.work();
    assertThat(tester.runs()).hasSize(2);
    Runs.Run run =
        tester.runs().stream().filter(r -> r.facts().course().equals("pier")).findFirst().get();
    assertThat(tester.passes(run).get(0).distances().shownAsReadM().orElseThrow())
        .isCloseTo(420, within(1e-9));
  }
}
