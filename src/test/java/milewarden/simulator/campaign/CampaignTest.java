package milewarden.simulator.campaign;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.simulator.campaign.InventedRelease.Expected;
import org.junit.jupiter.api.Test;

final class CampaignTest {
  private static final LocalDate TODAY = LocalDate.of(2026, 11, 25);
  private static final Campaign CAMPAIGN = Campaign.invented(TODAY, 1);

  private static List<Outing> outings() {
    List<Outing> all = new ArrayList<>();
    for (Campaign.Event e : CAMPAIGN.events())
      e.<Optional<Outing>>fold(
              run -> Optional.of(run.outing()), p -> Optional.empty(), r -> Optional.empty())
          .ifPresent(all::add);
    return all;
  }

  private static InventedRelease release(String version) {
    return CAMPAIGN.releases().stream()
        .filter(r -> r.version().equals(version))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void eventsComeInOrderAndLieWithinAYearBeforeToday() {
    Instant last = TODAY.minusDays(365).atStartOfDay(ZoneOffset.UTC).toInstant();
    for (Campaign.Event e : CAMPAIGN.events()) {
      assertThat(e.at()).isAfterOrEqualTo(last);
      last = e.at();
    }
    assertThat(last).isBefore(TODAY.atStartOfDay(ZoneOffset.UTC).toInstant());
  }

  @Test
  void everyReleaseIsRunInAsManyOutingsAsPlannedAndNeverBeforeItIsOut() {
    Map<InventedRelease, Integer> run = new HashMap<>();
    for (Outing o : outings())
      for (InventedRelease r :
          o.carried().stream().map(Outing.Carried::release).distinct().toList()) {
        run.merge(r, 1, Integer::sum);
        assertThat(o.startedAt()).isAfter(r.releasedOn().atStartOfDay(ZoneOffset.UTC).toInstant());
      }
    for (InventedRelease r : CAMPAIGN.releases())
      assertThat(run.getOrDefault(r, 0)).as(r.version()).isEqualTo(r.sessions());
    assertThat(release("2.2.0").expected()).isEqualTo(Expected.UNTESTED);
  }

  @Test
  void theSameDayAndSeedGiveTheSameRecordingsAndSheet() {
    Outing one = outings().get(4);
    Campaign again = Campaign.invented(TODAY, 1);
    Outing two =
        again.events().stream()
            .filter(e -> e.at().equals(one.startedAt()))
            .map(e -> e.fold(r -> r.outing(), p -> one, g -> one))
            .findFirst()
            .orElseThrow();
    List<Outing.Recording> a = one.record();
    List<Outing.Recording> b = two.record();
    assertThat(one.sheet(a)).isEqualTo(two.sheet(b));
    for (int i = 0; i < a.size(); i++)
      assertThat(a.get(i).made().track().latitudesDeg())
          .isEqualTo(b.get(i).made().track().latitudesDeg());
  }

  @Test
  void aSheetHasOneRowForEachRecordingAndAsManyCellsAsItsHeader() {
    Outing outing = outings().get(0);
    List<Outing.Recording> recordings = outing.record();
    List<String> lines = outing.sheet(recordings).lines().toList();
    // Four units on five traversals.
    assertThat(recordings).hasSize(20);
    assertThat(lines).hasSize(21);
    int cells = lines.get(0).split(",", -1).length;
    for (String line : lines) assertThat(line.split(",", -1)).hasSize(cells);
  }

  @Test
  void whatWasPutInIsTheFormulasNumber() {
    // The scale of the odometer, and DOMAIN.md section 3 for the filter: R / sqrt(1 + (vT/R)^2).
    List<Double> longer = CAMPAIGN.injectedPercent(release("2.0.0"));
    List<Double> before = CAMPAIGN.injectedPercent(release("1.5.0"));
    for (int i = 0; i < 3; i++)
      assertThat(longer.get(i) - before.get(i)).isCloseTo(1.6, within(1e-9));
    double oval =
        CAMPAIGN.injectedPercent(release("0.9.0")).get(2)
            - CAMPAIGN.injectedPercent(release("0.8.0")).get(2);
    double r = 36.8;
    double bends = 2 * Math.PI * r / 400;
    double expected = 100 * bends * (1 / Math.sqrt(1 + Math.pow(3.4 * 4 / r, 2)) - 1);
    // Beside the steady bend: the lag's tail at the finish (13.6 m, gone by exp(-5 / 4) in 5 s of
    // standing: 3.9 m in 1600 = 0.24), the way from straight to bend and back over 14 m each, which
    // lasts shorter than the full inside offset, and a varying speed.
    assertThat(oval).isBetween(expected - 0.3, expected + 0.5);
  }

  @Test
  void theRecordedErrorsOfABaselineSpreadAsTheyWereDrawn() {
    // Day 0.10, unit 0.06, recordings 0.04 over five of them: sqrt(.0100 + .0036 + .0003) = 0.118.
    List<Double> sessions = new ArrayList<>();
    for (Outing o : outings()) {
      double sum = 0;
      int n = 0;
      for (Outing.Recording r : o.record()) {
        if (!r.carried().unit().control()) continue;
        sum += 100 * (r.made().recordedM().orElseThrow() / r.walk().referenceM() - 1);
        n++;
      }
      sessions.add(sum / n);
    }
    double mean = sessions.stream().mapToDouble(d -> d).average().orElseThrow();
    double squares = sessions.stream().mapToDouble(d -> (d - mean) * (d - mean)).sum();
    double sd = Math.sqrt(squares / (sessions.size() - 1));
    // 0.1 was put in; the mean's standard error is 0.118 / sqrt(31) = 0.021: four of them.
    assertThat(mean).isCloseTo(0.1, within(0.085));
    // Chi-square with 30 degrees of freedom, central 99.99 %: sd within a factor 0.57 to 1.5.
    assertThat(sd).isBetween(0.118 * 0.57, 0.118 * 1.5);
  }

  @Test
  void theCoursesAreThreeKindsAndTheirLinesAgreeWithTheirLengths() {
    List<ReferenceCourse> courses = CAMPAIGN.courses();
    assertThat(courses).extracting(ReferenceCourse::closed).containsExactly(true, false, true);
    // A course file is warned about beyond 0.1 % (ENGINE.md section 2).
    for (ReferenceCourse c : courses) assertThat(c.scale()).isCloseTo(1, within(0.001));
    // World Athletics: 400 m on lane 1; reference values, section 3: 400.0012.
    assertThat(courses.get(2).ellipsoidLengthM()).isCloseTo(400.0012, within(0.02));
  }
}
