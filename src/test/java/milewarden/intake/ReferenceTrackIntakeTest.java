package milewarden.intake;

import static milewarden.intake.Tester.HANDS;
import static milewarden.intake.Tester.PIER;
import static milewarden.intake.Tester.walk;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import milewarden.format.GpxWriter;
import milewarden.report.Digits;
import milewarden.report.page.run.PositionsPart;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.store.Id.FileId;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.units.UnitChoice;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A recording tagged as its session's reference track is no run; the runs are held against it. */
final class ReferenceTrackIntakeTest {
  private static final String START = "2026-05-12T07:00:00Z";

  @TempDir Path data;
  private Tester tester;
  private TagForm form;

  @BeforeEach
  void open() {
    tester = new Tester(data, HANDS);
    tester.course(PIER);
    form = new TagForm(tester.database, tester.measuring::work);
  }

  @AfterEach
  void close() {
    tester.close();
  }

  /** The same walk as {@code walk(PIER, start, seed)}, by a receiver without error. */
  private static byte[] perfect(String start, long seed) {
    Walk walk = Walk.of(PIER).withStart(Instant.parse(start));
    return GpxWriter.write(TrackSimulator.simulate(walk, Receiver.PERFECT, Sky.CLEAR, seed).track())
        .getBytes(StandardCharsets.UTF_8);
  }

  private List<PositionsPart> positions(FileId file) {
    Digits digits = Digits.of(UnitChoice.METRIC, ZoneOffset.UTC);
    Runs.Run run = tester.run(file);
    return tester.database.read(tx -> CarriedAlong.of(tx, run, digits));
  }

  private Received tagged(FileId file, String role) {
    assertThat(form.apply(List.of(file), Map.of(TagName.ROLE, role))).isEmpty();
    return tester.row(file);
  }

  private FileId newest(String path) {
    List<Received> there = tester.database.read(tx -> ReceivedFiles.atPath(tx, path));
    return there.get(there.size() - 1).id();
  }

  @Test
  void whicheverComesFirstTheRunIsHeldAgainstIt() {
    for (boolean first : new boolean[] {true, false}) {
      String day = first ? "2026-05-12" : "2026-05-14";
      byte[] truth = perfect(day + "T07:00:00Z", 1);
      if (first) tester.drop("survey/true.gpx", truth);
      Received device = tester.drop("K1/1.0/a.gpx", walk(PIER, day + "T07:00:00Z", 1));
      if (!first) tester.drop("survey/true.gpx", truth);
      FileId reference = newest("survey/true.gpx");
      // Without its role it is a recording like any other and waits for its tags.
      assertThat(tester.row(reference).state()).isEqualTo(State.WAITING);
      Received kept = tagged(reference, "reference");
      assertThat(kept.state()).isEqualTo(State.MEASURED);
      assertThat(kept.reason().orElseThrow().code()).isEqualTo("reference-track");
      List<PositionsPart> parts = positions(device.id());
      assertThat(parts).hasSize(1);
      assertThat(parts.get(0).reference()).isEqualTo("survey/true.gpx");
      assertThat(parts.get(0).figures()).anyMatch(l -> l.name().equals("RMSE"));
      assertThat(parts.get(0).remarks().get(0)).contains("positions were compared");
    }
    // Two devices on two days, and no run of the reference.
    assertThat(tester.runs()).hasSize(2);
  }

  @Test
  void anOutingOfAnotherDayIsNotHeldAgainstIt() {
    tagged(tester.drop("survey/true.gpx", perfect(START, 1)).id(), "reference");
    Received other = tester.drop("K1/1.0/b.gpx", walk(PIER, "2026-05-13T07:00:00Z", 2));
    assertThat(positions(other.id())).isEmpty();
  }

  @Test
  void aRunThatTurnsOutToBeTheReferenceCountsNoMoreAndComesBack() {
    FileId file = tester.drop("K9/1.0/c.gpx", walk(PIER, START, 3)).id();
    assertThat(tester.run(file).heldFor()).isEmpty();
    tagged(file, "reference");
    assertThat(tester.run(file).heldFor()).contains(tester.run(file).id());
    assertThat(positions(file)).as("against itself").isEmpty();
    tagged(file, "test");
    assertThat(tester.run(file).heldFor()).isEmpty();
    FileId device = tester.drop("K1/1.0/d.gpx", walk(PIER, START, 7)).id();
    assertThat(positions(device)).isEmpty();
  }

  @Test
  void aRecordingBetweenTwoOutingsMakesThemOneAndKeepsTheirReference() {
    tagged(tester.drop("survey/true.gpx", perfect("2026-05-12T12:00:00Z", 1)).id(), "reference");
    tester.drop("K1/1.0/early.gpx", walk(PIER, "2026-05-12T07:00:00Z", 4));
    // Two and a half hours from either: all three are one outing now.
    tester.drop("K1/1.0/between.gpx", walk(PIER, "2026-05-12T09:30:00Z", 5));
    FileId late = tester.drop("K1/1.0/late.gpx", walk(PIER, "2026-05-12T12:00:00Z", 1)).id();
    assertThat(positions(late)).hasSize(1);
    assertThat(tester.runs().stream().map(r -> r.facts().session()).distinct()).hasSize(1);
  }

  @Test
  void aRoleThatNobodyKnowsIsAskedFor() {
    FileId file = tester.drop("K1/1.0/e.gpx", walk(PIER, START, 6)).id();
    assertThat(form.apply(List.of(file), Map.of(TagName.ROLE, "umpire")))
        .extracting(TagForm.Problem::name)
        .containsExactly(TagName.ROLE);
  }

  @Test
  void aReferenceTrackWithoutTimesIsRefusedWithASentence() {
    String text = new String(perfect(START, 1), StandardCharsets.UTF_8);
    byte[] timeless = text.replaceAll("<time>[^<]*</time>", "").getBytes(StandardCharsets.UTF_8);
    Received row = tagged(tester.drop("survey/no-times.gpx", timeless).id(), "reference");
    assertThat(row.state()).isEqualTo(State.REFUSED);
    assertThat(row.reason().orElseThrow().sentence()).contains("no times");
  }
}
