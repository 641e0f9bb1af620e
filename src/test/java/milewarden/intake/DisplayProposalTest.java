package milewarden.intake;

import static milewarden.intake.Tester.HANDS;
import static milewarden.intake.Tester.PIER;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import milewarden.accuracy.display.DisplayRule;
import milewarden.format.GpxWriter;
import milewarden.review.DisplayRules;
import milewarden.simulator.Odometer;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.store.Id.FileId;
import milewarden.track.TagName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A display's rule that nobody knew: found over many runs, proposed, and set by the tester alone.
 */
final class DisplayProposalTest {
  @TempDir Path data;

  @Test
  void aRuleIsProposedAndNothingChangesUntilTheTesterSaysSo() {
    try (Tester tester = new Tester(data, HANDS)) {
      tester.course(PIER);
      List<FileId> files = new ArrayList<>();
      for (int i = 0; i < 10; i++) files.add(read(tester, i));
      DisplayRules.OfStep before = rule(tester, files.get(0));
      assertThat(before.found().said()).contains(DisplayRule.CUT_OFF);
      assertThat(before.unknown()).containsExactlyInAnyOrderElementsOf(files);
      assertThat(widthM(tester, files.get(0))).isEqualTo(15.0);

      new TagForm(tester.database, () -> {})
          .apply(before.unknown(), Map.of(TagName.ROUNDING, "truncated"));
      tester.measuring.work();
      assertThat(rule(tester, files.get(0)).unknown()).isEmpty();
      assertThat(widthM(tester, files.get(0))).isEqualTo(10.0);
    }
  }

  /** One recording, whose display cut off to ten metres. */
  private static FileId read(Tester tester, int i) {
    double scale = (400.4 + 1.4 * i) / 400;
    Receiver receiver =
        Receiver.PERFECT
            .withNoise(1, 20, 0.1)
            .withOdometer(new Odometer(Odometer.Source.SPEED, scale));
    Walk walk =
        Walk.of(PIER).withStart(Instant.parse("2026-05-12T07:00:00Z").plusSeconds(3600L * i));
    byte[] bytes =
        GpxWriter.write(TrackSimulator.simulate(walk, receiver, Sky.CLEAR, i).track())
            .getBytes(StandardCharsets.UTF_8);
    FileId file = tester.drop("K1/1.0/hand/" + i + ".gpx", bytes).id();
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    tags.put(TagName.SHOWN, i < 7 ? "0.40" : "0.41");
    tags.put(TagName.SHOWN_UNIT, "km");
    tags.put(TagName.SHOWN_STEP, "0.01");
    assertThat(new TagForm(tester.database, () -> {}).apply(List.of(file), tags)).isEmpty();
    tester.measuring.work();
    return file;
  }

  private static DisplayRules.OfStep rule(Tester tester, FileId file) {
    List<DisplayRules.OfStep> all =
        tester.database.read(tx -> DisplayRules.of(tx, tester.run(file).model()));
    assertThat(all).hasSize(1);
    return all.get(0);
  }

  private static double widthM(Tester tester, FileId file) {
    var shown = tester.passes(tester.run(file)).get(0).distances().shownM().orElseThrow();
    return Math.rint((shown.highM() - shown.lowM()) * 1e6) / 1e6;
  }
}
