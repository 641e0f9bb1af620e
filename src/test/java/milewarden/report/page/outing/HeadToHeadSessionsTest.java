package milewarden.report.page.outing;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.Judged;
import milewarden.units.PercentRange;
import milewarden.units.UnitChoice;
import milewarden.verdict.Policy;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.headtohead.HeadToHead;
import org.junit.jupiter.api.Test;

/** Models with more sessions than a page shows. */
final class HeadToHeadSessionsTest {
  private static final Digits DIGITS = Digits.of(UnitChoice.METRIC, ZoneOffset.UTC);

  // The second and the third begin at once, on two courses.
  private final HeadToHead head =
      head(
          List.of(session("a", 1, 0.1), session("b", 2, 0.2), session("d", 4, 0.4)),
          List.of(session("c", 2, 1.2), session("d", 4, 1.4), session("e", 5, 1.5)));

  @Test
  void theNewestAreShownAndWhereTheOthersAreIsSaid() {
    HeadToHeadPage page = page(3);
    assertThat(names(page.outings())).containsExactly("c", "d", "e");
    assertThat(page.allSessions()).isEqualTo("5\u00a0sessions");
    assertThat(page.caption()).startsWith("Rings: one session each, the newest 3, its mean");
    assertThat(HeadToHeadChart.of(head, 3, Policy.defaults(), DIGITS).marks())
        .extracting(HeadToHeadChart.Mark::session)
        .containsExactly("d", "c", "d", "e");
  }

  @Test
  void whereAllAreShownNothingIsSaidOfOthers() {
    HeadToHeadPage page = page(5);
    assertThat(names(page.outings())).containsExactly("a", "b", "c", "d", "e");
    assertThat(page.allSessions()).isEmpty();
    assertThat(page.caption()).startsWith("Rings: one session each, its mean");
  }

  @Test
  void thePartsOfTheListTogetherAreAllSessions() {
    List<String> seen = new ArrayList<>();
    for (int from = 0; from < 6; from += 2) {
      HeadToHeadSessionsPage part =
          HeadToHeadSessionsPage.of(head, "/h", "/h/sessions?models=1", from, 2, DIGITS);
      seen.addAll(names(part.outings()));
      assertThat(part.newer()).isEqualTo(from == 0 ? "" : at(from - 2));
      assertThat(part.older()).isEqualTo(from == 4 ? "" : at(from + 2));
    }
    assertThat(seen).containsExactly("e", "d", "c", "b", "a");
  }

  @Test
  void aRowSaysWhoWasNotCarried() {
    assertThat(page(5).outings().get(3).errors()).containsExactly("+0.40\u00a0%", "+1.40\u00a0%");
    assertThat(page(5).outings().get(0).errors()).containsExactly("+0.10\u00a0%", "not carried");
  }

  private static String at(int from) {
    return "/h/sessions?models=1&from=" + from;
  }

  private static List<String> names(List<HeadToHeadChart.Outing> outings) {
    return outings.stream().map(HeadToHeadChart.Outing::session).toList();
  }

  private HeadToHeadPage page(int most) {
    return HeadToHeadPage.of(
        head, most, List.of(), "/json", "/h/sessions", Policy.defaults(), DIGITS);
  }

  private static HeadToHead head(List<SessionFigure> first, List<SessionFigure> second) {
    return new HeadToHead(
        Judged.source(),
        List.of(Judged.LOOP),
        List.of(side(1, "Fell", first), side(2, "Wren", second)),
        List.of());
  }

  private static HeadToHead.Side side(long model, String name, List<SessionFigure> sessions) {
    return new HeadToHead.Side(
        new HeadToHead.Release(model, name, "1.0"),
        Optional.of(Judged.figures(sessions.size(), 0.5, 0.2, 0, 1)),
        List.of(),
        sessions,
        0);
  }

  private static SessionFigure session(String name, int day, double percent) {
    LocalDate date = LocalDate.of(2026, 3, day);
    return new SessionFigure(
        name,
        date.atStartOfDay(ZoneOffset.UTC).toInstant(),
        date,
        percent,
        PercentRange.exactly(percent),
        List.of(),
        List.of("A1"),
        1,
        List.of((long) day),
        false);
  }
}
