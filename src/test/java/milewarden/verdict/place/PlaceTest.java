package milewarden.verdict.place;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import milewarden.benchmark.PlaceRates;
import milewarden.benchmark.PlaceRates.Change;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.verdict.Campaign;
import milewarden.verdict.Condition;
import milewarden.verdict.Source;
import milewarden.verdict.place.DeviceDayCourse.What;
import org.junit.jupiter.api.Test;

/** Algebra, and the quick form of {@link PlaceRates}. */
final class PlaceTest {
  private static final Condition LOOP =
      new Condition("loop", "v1", SkyView.OPEN, Carriage.FIXED, Gait.RUN, "");

  private static PlacedPass pass(String session, Direction way, int laps, double... excess) {
    List<Double> bins = java.util.Arrays.stream(excess).boxed().toList();
    return new PlacedPass(
        session,
        Instant.EPOCH,
        "Alder",
        "a",
        false,
        "1.0",
        LOOP,
        way,
        laps,
        10.0 * excess.length - 4,
        bins);
  }

  @Test
  void theStripIsTheDifferenceOfSessionMeansPerLap() {
    List<PlacedPass> after =
        List.of(
            // One session: forward twice, back once; two laps summed in the last.
            pass("s1", Direction.FORWARD, 1, 1, 0, 0),
            pass("s1", Direction.FORWARD, 1, 3, 0, 0),
            pass("s1", Direction.REVERSE, 2, 8, 2, 0),
            pass("s2", Direction.FORWARD, 1, 0, 0, 1));
    List<PlacedPass> before = List.of(pass("b1", Direction.FORWARD, 1, 0.5, 0.5, 0.5));
    DifferenceStrip strip = DifferenceStrip.of(after, before).orElseThrow();
    // s1: forward (2, 0, 0), back (4, 1, 0), mean (3, 0.5, 0); with s2 (1.5, 0.25, 0.5).
    assertThat(strip.bins().stream().map(DifferenceStrip.Bin::differenceM))
        .containsExactly(1.0, -0.25, 0.0);
    assertThat(strip.totalM()).isCloseTo(0.75, within(1e-12));
    assertThat(strip.candidateSessions()).isEqualTo(2);
    assertThat(strip.bins().get(2).toM()).isEqualTo(26);
    // One session of the baseline: no band.
    assertThat(strip.bins()).allMatch(b -> b.low().isEmpty());
  }

  @Test
  void theBandHoldsTheDifferenceAndIsTheSameEveryTime() {
    List<PlacedPass> after =
        List.of(
            pass("s1", Direction.FORWARD, 1, 1.0, 0.2),
            pass("s2", Direction.FORWARD, 1, 1.4, -0.1),
            pass("s3", Direction.FORWARD, 1, 0.9, 0.1));
    List<PlacedPass> before =
        List.of(
            pass("b1", Direction.FORWARD, 1, 0.1, 0.0),
            pass("b2", Direction.FORWARD, 1, -0.1, 0.3),
            pass("b3", Direction.FORWARD, 1, 0.0, -0.2));
    DifferenceStrip strip = DifferenceStrip.of(after, before).orElseThrow();
    for (DifferenceStrip.Bin b : strip.bins()) {
      assertThat(b.low().orElseThrow()).isLessThanOrEqualTo(b.differenceM());
      assertThat(b.high().orElseThrow()).isGreaterThanOrEqualTo(b.differenceM());
    }
    // Three against three can't differ by more than the farthest pair does.
    assertThat(strip.bins().get(0).high().orElseThrow()).isLessThanOrEqualTo(1.5 + 1e-12);
    assertThat(strip.bins().get(0).standsOut()).isTrue();
    assertThat(strip.bins().get(1).standsOut()).isFalse();
    var reversed = new java.util.ArrayList<>(after);
    Collections.reverse(reversed);
    assertThat(DifferenceStrip.of(reversed, before)).contains(strip);
  }

  @Test
  void theBandCoversAboutAsOftenAsItSays() {
    // Measured by the command: 0.96 of 6 against 8. 3,000 bins of 30 strips, sessions shared.
    assertThat(PlaceRates.coverage(3_000, 6, 8, 5)).isBetween(0.93, 0.99);
  }

  @Test
  void whereNothingHappenedNothingIsBlamed() {
    Map<What, Double> said = PlaceRates.said(400, 6, Change.NOTHING, 3);
    // 1 % each by design for the model, the controls and the two kinds of places, were they apart;
    // a day as well: the command measured 4.0, 3.6 and 3.7 % of 2,000 after 3, 6 and 12 sessions.
    // 0.0085 is the standard error of 0.03 in 400, three of them.
    assertThat(1 - said.getOrDefault(What.NOTHING, 0.0)).isLessThan(0.03 + 3 * 0.0085);
  }

  @Test
  void eachCauseIsToldFromTheOthers() {
    Map<Change, What> causes =
        Map.of(
            Change.FIRMWARE, What.THIS_MODEL,
            Change.SKY, What.ALL_DEVICES,
            Change.ROADWORKS, What.PLACE_ALL_DEVICES,
            Change.BEND_CUT, What.PLACE_THIS_MODEL,
            Change.BAD_DAY, What.SESSION_ALL_DEVICES);
    causes.forEach(
        (change, what) -> {
          Map<What, Double> said = PlaceRates.said(200, 6, change, 4);
          assertThat(said.getOrDefault(what, 0.0)).as(change + ": " + said).isGreaterThan(0.8);
          for (What other : causes.values())
            if (other != what)
              assertThat(said.getOrDefault(other, 0.0))
                  .as(change + " called " + other + ": " + said)
                  .isLessThan(0.06);
        });
  }

  /** By the errors themselves, over two courses, one a session: the rows are sums of effects. */
  @Test
  void theErrorsTellTheFirmwareFromTheSkyOverSeveralCourses() {
    assertThat(byErrors(1.5, 0)).containsExactly(What.THIS_MODEL);
    assertThat(byErrors(1.5, 1.5)).containsExactly(What.ALL_DEVICES);
    assertThat(byErrors(0, 0)).containsExactly(What.NOTHING);
  }

  private static List<What> byErrors(double model, double control) {
    double[] noise = {0.1, -0.1, 0.05, -0.05, 0.08, -0.08};
    Condition other = Campaign.condition("mill-lane", "v1", Carriage.FIXED);
    Campaign c = new Campaign();
    for (int i = 0; i < 12; i++) {
      boolean after = i >= 6;
      Condition in = i % 2 == 0 ? Campaign.LOOP : other;
      // The courses differ by a point, and each session has its sky.
      double sky = (i % 2 == 0 ? 0 : 1) + noise[i * 5 % 6];
      c.track(
          after ? "1.1" : "1.0",
          i,
          in,
          "unit-a",
          Direction.FORWARD,
          sky + noise[i % 6] + (after ? model : 0));
      c.control(i, in, sky + noise[(i + 3) % 6] + (after ? control : 0));
    }
    return Origin.told(c.passes, "Alder", "1.1", "1.0", Source.TRACK, 0.25)
        .orElseThrow()
        .findings()
        .stream()
        .map(DeviceDayCourse.Finding::what)
        .toList();
  }

  /** Nobody reads a control's display: its own recording tells of the day as well. */
  @Test
  void aControlWithoutAReadingStandsInWithWhatItRecorded() {
    Campaign c = new Campaign();
    for (int i = 0; i < 12; i++) {
      c.shown(i >= 6 ? "1.1" : "1.0", i, 2000, 2000 + i % 3 + (i >= 6 ? 30 : 0), 1);
      c.control(i, 0.05 * (i % 2));
    }
    assertThat(
            Origin.told(c.passes, "Alder", "1.1", "1.0", Source.SHOWN, 0.25)
                .orElseThrow()
                .findings())
        .extracting(DeviceDayCourse.Finding::what)
        .containsExactly(What.THIS_MODEL);
  }

  @Test
  void withoutAControlItCannotBeTold() {
    List<PlacedPass> passes =
        List.of(
            pass("s1", Direction.FORWARD, 1, 1, 0, 0, 0, 0, 0),
            pass("s2", Direction.FORWARD, 1, 1, 0, 0, 0, 0, 0),
            pass("s3", Direction.FORWARD, 1, 1, 0, 0, 0, 0, 0));
    DeviceDayCourse told = Blame.of(passes, passes, 0.25).orElseThrow();
    assertThat(told.findings())
        .extracting(DeviceDayCourse.Finding::what)
        .containsExactly(What.CANNOT_TELL);
  }
}
