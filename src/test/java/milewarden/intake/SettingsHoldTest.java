package milewarden.intake;

import static milewarden.intake.Tester.HANDS;
import static milewarden.intake.Tester.PIER;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import milewarden.format.GpxWriter;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.run.Exclusions;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.verdict.PassEvidence.Exclusion;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A recording whose settings were other than said, from the folder to the run. */
final class SettingsHoldTest {
  private static final Receiver USUAL = Receiver.PERFECT.withNoise(1.0, 20, 0.1);
  private static final Walk WALK = Walk.of(PIER).withStart(Instant.parse("2026-05-12T07:00:00Z"));

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

  private Received drop(Walk walk, Receiver receiver) {
    byte[] bytes =
        GpxWriter.write(TrackSimulator.simulate(walk, receiver, Sky.CLEAR, 4).track())
            .getBytes(StandardCharsets.UTF_8);
    return tester.drop("K1/1.0/hand/a.gpx", bytes);
  }

  private Received tag(Received file, TagName name, String value) {
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    tags.put(name, value);
    assertThat(new TagForm(tester.database, () -> {}).apply(List.of(file.id()), tags)).isEmpty();
    tester.measuring.work();
    return tester.row(file.id());
  }

  private void waits(Received file, String says) {
    assertThat(file.state()).isEqualTo(State.WAITING);
    assertThat(file.missing()).containsExactly(TagName.SETTINGS_CHECK);
    assertThat(file.reason().orElseThrow().code()).isEqualTo("settings");
    assertThat(file.reason().orElseThrow().sentence()).contains(says);
    // It enters no baseline.
    assertThat(tester.runs()).isEmpty();
  }

  @Test
  void aRecordingEveryFiveSecondsWaitsForItsTester() {
    waits(drop(WALK, USUAL.withInterval(5)), "a fix only every 5 s");
  }

  @Test
  void anAnswerThatItIsSoCountsItInAConditionOfItsOwn() {
    Received file = tag(drop(WALK, USUAL.withInterval(5)), TagName.SETTINGS_CHECK, "as-found");
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(file.id()).facts().settings()).isEqualTo("found a fix every 5 s");
    assertThat(findings(file)).contains("SETTINGS_DIFFER");
  }

  @Test
  void anAnswerThatTheyWereAsStatedCountsItWhereItSaid() {
    Received file = tag(drop(WALK, USUAL.withInterval(5)), TagName.SETTINGS_CHECK, "as-stated");
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(file.id()).facts().settings()).isEmpty();
    assertThat(exclusions(file)).isEmpty();
    assertThat(findings(file)).contains("SETTINGS_DIFFER");
  }

  @Test
  void anAnswerThatTheyWereWrongLeavesItOutWithThatReason() {
    Received file = tag(drop(WALK, USUAL.withInterval(5)), TagName.SETTINGS_CHECK, "wrong");
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(exclusions(file)).containsExactly(Exclusion.Reason.WRONG_SETTINGS);
    assertThat(signed(file)).containsExactly("the tester");
  }

  @Test
  void aReasonOnThePageIsTheTestersAndGoesWhenTheTesterTakesItBack() {
    Received file = tag(drop(WALK, USUAL), TagName.EXCLUDED_REASON, "interrupted");
    assertThat(signed(file)).containsExactly("the tester");
    file = tag(file, TagName.EXCLUDED_REASON, "device-fault");
    assertThat(standing(file)).containsExactly(Exclusion.Reason.DEVICE_FAULT);
    file = tag(file, TagName.EXCLUDED_REASON, "");
    assertThat(standing(file)).isEmpty();
    // Lifted, not forgotten.
    assertThat(exclusions(file))
        .containsExactly(Exclusion.Reason.INTERRUPTED, Exclusion.Reason.DEVICE_FAULT);
  }

  @Test
  void aReasonInTheFieldSheetIsSignedByTheSheet() {
    Received file = drop(WALK, USUAL);
    tester.drop(
        "K1/1.0/hand/session.csv",
        "session,unit,pass,file,excluded_reason\nS1,K1,1,a.gpx,interrupted\n");
    assertThat(standing(file)).containsExactly(Exclusion.Reason.INTERRUPTED);
    assertThat(signed(file)).containsExactly("session.csv");
  }

  @ParameterizedTest
  @ValueSource(strings = {"5", "5 s recording", "every 5 seconds", "5,0 s"})
  void aProfileThatSaysSoMakesNoFinding(String interval) {
    Tester other =
        new Tester(data.resolve("other"), Map.of(TagName.INTERVAL, interval, TagName.GAIT, "walk"));
    try (other) {
      other.course(PIER);
      byte[] bytes =
          GpxWriter.write(
                  TrackSimulator.simulate(WALK, USUAL.withInterval(5), Sky.CLEAR, 4).track())
              .getBytes(StandardCharsets.UTF_8);
      Received file = other.drop("K1/1.0/hand/a.gpx", bytes);
      assertThat(file.reason()).isEmpty();
      assertThat(file.state()).isEqualTo(State.MEASURED);
    }
  }

  @Test
  void unevenIntervalsWait() {
    // Turns are a course's: on a straight pier the longest pause between two fixes is what comes.
    waits(drop(WALK, USUAL.withSmart(new Receiver.Smart(7, 30))), "every 7 s");
  }

  @Test
  void autoPauseWaitsUnlessTheProfileSaysIt() {
    Walk stops = WALK.withPauses(List.of(new Walk.Pause(150, 40)));
    waits(drop(stops, USUAL.withAutoPause()), "stopped once while standing");
    Received file = tag(tester.row(onlyFile()), TagName.BAND, "one band, auto-pause on");
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(findings(file)).doesNotContain("SETTINGS_DIFFER");
  }

  private milewarden.store.Id.FileId onlyFile() {
    return tester.database.read(
        tx ->
            milewarden.store.file.ReceivedFiles.page(
                    tx, java.util.Optional.empty(), java.util.Optional.empty(), 1)
                .get(0)
                .id());
  }

  @Test
  void aStopThatIsRecordedIsNoAutoPause() {
    Received file = drop(WALK.withPauses(List.of(new Walk.Pause(150, 40))), USUAL);
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(findings(file)).doesNotContain("SETTINGS_DIFFER");
  }

  @Test
  void aHoleWhileWalkingIsNoAutoPause() {
    Receiver holed = USUAL.withGaps(List.of(new Receiver.Gap(100, 15, true)));
    assertThat(drop(WALK, holed).state()).isEqualTo(State.MEASURED);
  }

  @Test
  void positionsOnALineWait() {
    waits(drop(WALK, USUAL.withSnapping()), "keep to a line");
  }

  @Test
  void aCoarseExportWaits() {
    waits(drop(WALK, USUAL.withDecimals(5)), "too coarse");
  }

  @Test
  void aRunThatCountsIsNotTakenBackButSaysSo() {
    Received file = drop(WALK, USUAL.withInterval(5));
    file = tag(file, TagName.INTERVAL, "5");
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(findings(file)).doesNotContain("SETTINGS_DIFFER");
    file = tag(file, TagName.INTERVAL, "1");
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(findings(file)).contains("SETTINGS_DIFFER");
  }

  private List<Exclusion.Reason> exclusions(Received file) {
    Runs.Run run = tester.run(file.id());
    return tester.database.read(
        tx -> Exclusions.of(tx, run.id()).stream().map(e -> e.exclusion().reason()).toList());
  }

  private List<String> signed(Received file) {
    Runs.Run run = tester.run(file.id());
    return tester.database.read(
        tx -> Exclusions.of(tx, run.id()).stream().map(e -> e.exclusion().by()).toList());
  }

  private List<Exclusion.Reason> standing(Received file) {
    Runs.Run run = tester.run(file.id());
    return tester.database.read(
        tx ->
            Exclusions.of(tx, run.id()).stream()
                .filter(e -> e.liftedAt().isEmpty())
                .map(e -> e.exclusion().reason())
                .toList());
  }

  private List<String> findings(Received file) {
    Runs.Run run = tester.run(file.id());
    return tester.database.read(
        tx ->
            Results.find(tx, run.id()).orElseThrow().measurement().findings().stream()
                .map(f -> f.code().name())
                .toList());
  }
}
