package milewarden.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Ladder;
import milewarden.accuracy.LadderStep;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.device.Carriage;
import milewarden.report.pass.LadderWords;
import milewarden.track.Issue;
import milewarden.track.TagName;
import milewarden.units.LengthRange;
import milewarden.units.PercentRange;
import milewarden.units.UnitChoice;
import org.junit.jupiter.api.Test;

final class WordsTest {
  private final Digits digits = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);

  private static String plain(String text) {
    return text.replace('\u00a0', ' ');
  }

  @Test
  void everyIssueSaysWhatAndWhatToDo() {
    for (Issue.Kind kind : Issue.Kind.values()) {
      Said said = IssueWords.of(Issue.at(kind, "line 812", "12:04:09Z"));
      assertThat(said.what()).as(kind.name()).endsWith("(12:04:09Z).");
      assertThat(said.remedy()).as(kind.name()).endsWith(".");
      assertThat(said.sentence()).startsWith("Line 812: ");
    }
  }

  @Test
  void aSettingsProfileIsSaidInWordsAndNotInTheSheetsColumns() {
    assertThat(SettingsWords.profile("interval 1, band one band, start fix and 3 min"))
        .isEqualTo("a fix every second, one band, start: fix and 3 min");
    assertThat(SettingsWords.profile("interval smart, start cold, hills off"))
        .isEqualTo("recording smart, start: cold, hills off");
    assertThat(SettingsWords.profile("as found on the unit")).isEqualTo("as found on the unit");
  }

  @Test
  void everyFindingSaysWhatAndWhatToDo() {
    for (Finding.Code code : Finding.Code.values()) {
      Said said = IssueWords.of(new Finding(code, "", ""));
      assertThat(said.what()).as(code.name()).endsWith(".");
      assertThat(said.remedy()).as(code.name()).endsWith(".");
    }
  }

  @Test
  void aSentenceNamesThePlaceFirst() {
    assertThat(IssueWords.of(Issue.at(Issue.Kind.TRUNCATED, "line 812", "")).sentence())
        .isEqualTo(
            "Line 812: the file breaks off. What could be read up to there is used; copy the file"
                + " again to have the rest.");
    assertThat(IssueWords.of(Issue.of(Issue.Kind.NO_FIXES, "")).sentence())
        .startsWith("There is not one usable position in it.");
  }

  @Test
  void namesAreForPeopleAlsoInTheTurkishLocale() {
    Locale before = Locale.getDefault();
    try {
      Locale.setDefault(Locale.forLanguageTag("tr-TR"));
      assertThat(Words.of(Carriage.SWING_LEFT)).isEqualTo("left wrist, arm swinging");
      assertThat(Words.of(TagName.UNIT)).isEqualTo("unit");
      assertThat(Words.capital("it is")).isEqualTo("It is");
      assertThat(Words.small("It is")).isEqualTo("it is");
    } finally {
      Locale.setDefault(before);
    }
  }

  @Test
  void aListIsReadAloud() {
    assertThat(Words.list(List.of())).isEmpty();
    assertThat(Words.list(List.of("a"))).isEqualTo("a");
    assertThat(Words.list(List.of("a", "b", "c"))).isEqualTo("a, b and c");
  }

  @Test
  void theSentenceBeneathALadderNamesItsLargestStep() {
    Ladder ladder =
        new Ladder(0, 0.4, 0, 0, 4.9, -0.1, -0.1, OptionalDouble.empty(), Optional.empty());
    assertThat(plain(LadderWords.sentence(ladder, 400, digits)))
        .isEqualTo(
            "The largest step is weave, +4.9 m (+1.23 %): the track wanders from side to side, so"
                + " noise makes it longer than the course.");
    assertThat(LadderWords.rows(ladder, 400, digits))
        .extracting(LadderWords.Row::name)
        .containsExactly(
            "slope", "ends", "line", "backtrack", "weave", "bend offset", "chord and rest");
  }

  @Test
  void anIndicationIsAnInterval() {
    Ladder ladder =
        new Ladder(
            0, 0, 0, 0, 0.5, 0, 0, OptionalDouble.of(-0.2), Optional.of(new LengthRange(2, 18)));
    assertThat(LadderStep.largest(ladder)).contains(LadderStep.INDICATION);
    assertThat(plain(LadderWords.sentence(ladder, 400, digits)))
        .contains("indication, +2.0 m to +18.0 m (+0.50 % to +4.50 %)");
  }

  @Test
  void aLadderWithoutStepsHasNoLargest() {
    Ladder ladder = new Ladder(0, 0, 0, 0, 0, 0, 0, OptionalDouble.empty(), Optional.empty());
    assertThat(LadderStep.largest(ladder)).isEmpty();
    assertThat(LadderWords.sentence(ladder, 400, digits)).startsWith("Every step is 0");
  }

  // Arithmetic: 300 s / 1.01 = 297 s; 42.195 km x 1.01 = 42.617 km; 1 % of 12,658.5 s = 2:07.
  @Test
  void whatAnErrorDoesToARunner() {
    List<String> said =
        RunnerWords.of(PercentRange.exactly(1), digits).stream().map(WordsTest::plain).toList();
    assertThat(said)
        .containsExactly(
            "At a true pace of 5:00 min/km it shows 4:57 min/km.",
            "Who holds that pace by its display over a marathon is off the target by +2:07 (minutes"
                + " and seconds).",
            "At the finish of a marathon (42.20 km) it shows 42.62 km.",
            "Energy worked out from its distance moves by +0.7 % walking and +0.9 % running; an"
                + " estimate, no advice.");
  }
}
