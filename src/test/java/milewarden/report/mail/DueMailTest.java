package milewarden.report.mail;

import static org.assertj.core.api.Assertions.as;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.InstanceOfAssertFactories.STRING;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.util.Base64;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import javax.imageio.ImageIO;
import milewarden.report.AdviceWords;
import milewarden.report.Digits;
import milewarden.report.DueWords;
import milewarden.report.Judged;
import milewarden.units.UnitChoice;
import milewarden.verdict.Comparison;
import milewarden.verdict.DueItem;
import org.junit.jupiter.api.Test;

final class DueMailTest {
  private final Digits digits = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);
  private static final Optional<String> LINK = Optional.of("http://127.0.0.1:8080/models/3");

  private DueMail mail(DueItem... items) {
    return DueMail.of(new DueMail.About(Judged.model(), List.of(items)), digits, LINK);
  }

  @Test
  void theSubjectSaysModelFirmwareWhatChangedByHowMuchAndOnHowManySessions() {
    assertThat(mail(Judged.worse()).subject())
        .isEqualTo("Fell 2 firmware 2.1.0 is worse than 2.0.0: +1.3 points on 6 sessions");
  }

  @Test
  void ofAReleaseThatOnlyScattersMoreTheSpreadLeads() {
    DueMail mail = mail(Judged.noisier());
    assertThat(mail.subject())
        .isEqualTo(
            "Fell 2 firmware 2.1.0 scatters more than 2.0.0: spread 1.26 % after 0.38 % on 12"
                + " sessions");
    assertThat(mail.text().replaceAll("\\s+", " "))
        .startsWith(
            "Firmware 2.1.0 of Fell 2 scatters more than firmware 2.0.0: spread 1.26 % after 0.38 %"
                + " on 12 sessions; the mean error is not shown to have changed: +0.4 points"
                + " (95 %: \u22120.5 to +1.3 points)");
  }

  @Test
  void twoReleasesWithoutASessionToCompareAreNotCalledUnsettled() {
    DueItem.Facts none =
        new DueItem.Facts(
            Optional.of("2.0.0"),
            List.of(),
            OptionalDouble.empty(),
            Optional.empty(),
            OptionalDouble.empty(),
            OptionalInt.of(0),
            OptionalInt.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.of(Comparison.Because.NO_COMMON_CONDITION),
            Optional.empty(),
            Optional.empty(),
            Optional.empty());
    DueMail mail = mail(Judged.of(DueItem.Cause.COMPARISON_NOT_SETTLED, none));
    assertThat(mail.subject()).isEqualTo("Fell 2 firmware 2.1.0 can't be held against 2.0.0 yet");
    assertThat(mail.text().replaceAll("\\s+", " "))
        .startsWith(
            "Firmware 2.1.0 of Fell 2 can't be held against firmware 2.0.0 yet, because no condition"
                + " was tested with both releases.");
  }

  @Test
  void theSubjectCountsWhatElseIsDue() {
    assertThat(mail(Judged.worse(), Judged.untested()).subject()).endsWith("(and 1 more)");
  }

  @Test
  void theTextTellsItAllWithoutPictureOrHtml() {
    String text = mail(Judged.worse()).text();
    assertThat(text)
        .startsWith("Firmware 2.1.0 of Fell 2 is worse than firmware 2.0.0: a change of")
        .contains("+1.3 points (95 %: +0.7 to +1.9 points) on 6 sessions")
        .containsPattern("before +after")
        .containsPattern("mean error +\\+0.6 % ± 0.4 +\\+1.9 % ± 0.5")
        .contains("next run")
        .contains("sessions     8")
        .contains("2.0.0    -3 ..........|.....[=+=].......... +3")
        .contains("What to do next")
        .contains("unit fell-2-a")
        .contains("http://127.0.0.1:8080/models/3")
        .doesNotContain("\u00a0")
        .doesNotContain("cid:");
    assertThat(text.lines().mapToInt(String::length).max().orElse(0)).isLessThanOrEqualTo(78);
  }

  @Test
  void theSameFiguresAreToldOnce() {
    DueMail twice = mail(Judged.worse(), Judged.worse());
    assertThat(twice.text().split("mean error", -1)).hasSize(1 + 1);
    assertThat(twice.html().split(">Mean error<", -1)).hasSize(1 + 1);
    assertThat(twice.text().split("What to do next", -1)).hasSize(1 + 2);
  }

  @Test
  void whatToDoStandsBeforeTheFigures() {
    DueMail mail = mail(Judged.worse());
    for (String body : List.of(mail.text(), mail.html()))
      assertThat(body.indexOf("What to do next"))
          .isPositive()
          .isLessThan(body.toLowerCase(java.util.Locale.ROOT).indexOf("next run"));
  }

  @Test
  void anUntestedReleaseIsAWord() {
    String text = mail(Judged.untested()).text();
    assertThat(text).contains("not tested").contains("Run 3 more sessions");
  }

  @Test
  void theHtmlNamesThePictureAndTellsItInWords() {
    String html = mail(Judged.worse()).html();
    assertThat(html)
        .contains("src=\"cid:" + DueMail.PICTURE_ID + "\"")
        .contains("alt=\"Mean error of Fell 2 by firmware, in order of date: 1.9.0: ")
        .contains("2.2.0: not tested")
        .doesNotContain("http://www")
        .doesNotContain("<script");
  }

  @Test
  void whatATesterWroteCanNotBecomeMarkup() {
    DueItem odd =
        new DueItem(
            "k",
            DueItem.Kind.RETEST_DUE,
            DueItem.Severity.STALE,
            DueItem.Cause.NEWER_FIRMWARE,
            "<b>Fell</b> & Co",
            "2\"'",
            Judged.facts(Optional.empty()),
            Judged.untested().advice(),
            List.of());
    assertThat(mail(odd).html()).contains("&lt;b&gt;Fell&lt;/b&gt; &amp; Co").doesNotContain("<b>");
  }

  /** It says nothing of more sessions: those are the release's own to ask for. */
  @Test
  void aRunFarOffAsksForItselfAlone() {
    DueItem item = Judged.of(DueItem.Cause.SUSPECT_RUN, Judged.facts(Optional.empty()));
    assertThat(AdviceWords.of(item, digits))
        .first(as(STRING))
        .startsWith("Repeat the run")
        .endsWith("It counts among the sessions that the release still needs.")
        .doesNotContain("more session");
  }

  @Test
  void everyCauseHasATitleASentenceAndAdvice() {
    for (DueItem.Cause cause : DueItem.Cause.values()) {
      DueItem bare = Judged.of(cause, Judged.facts(Optional.empty()));
      DueItem full = Judged.of(cause, Judged.changedDecision().facts());
      for (DueItem item : List.of(bare, full)) {
        assertThat(DueWords.title(item, digits)).as(cause.name()).doesNotContain("  ");
        assertThat(DueWords.sentence(item, digits))
            .as(cause.name())
            .endsWith(".")
            .doesNotContain("  ")
            .doesNotContain("Optional")
            .doesNotContain(" .");
        assertThat(AdviceWords.of(item, digits)).as(cause.name()).isNotEmpty();
      }
    }
  }

  @Test
  void aDecisionThatNoLongerHoldsIsSaidWithBothDecisions() {
    assertThat(DueWords.sentence(Judged.changedDecision(), digits))
        .isEqualTo(
            "The published verdict on Fell 2 no longer holds for firmware 2.1.0: pacing went from"
                + " pass to fail; judged by the distance shown.");
  }

  @Test
  void thePictureIsAPng() throws IOException {
    Optional<byte[]> png = mail(Judged.worse()).png();
    assertThat(png).isPresent();
    assertThat(ImageIO.read(new ByteArrayInputStream(png.orElseThrow())).getWidth())
        .isGreaterThan(600);
  }

  @Test
  void aModelWithoutAnyTestHasNoPicture() {
    var untested =
        new milewarden.verdict.ModelJudgement(
            "Fell 2",
            Judged.model().judgedAt(),
            "1",
            List.of(),
            Optional.empty(),
            List.of(),
            List.of(),
            List.of(),
            List.of(),
            Optional.empty());
    DueMail mail =
        DueMail.of(
            new DueMail.About(untested, List.of(Judged.untested())), digits, Optional.empty());
    assertThat(mail.png()).isEmpty();
    assertThat(mail.html()).doesNotContain("cid:");
  }

  /** Leaves the sample that a person reads: target/mail-sample.html and .txt. */
  @Test
  void aSampleCanBeRead() throws IOException {
    DueMail mail = mail(Judged.worse(), Judged.untested());
    String picture =
        "data:image/png;base64," + Base64.getEncoder().encodeToString(mail.png().orElseThrow());
    Path target = Path.of("target");
    Files.writeString(
        target.resolve("mail-sample.html"),
        mail.html().replace("cid:" + DueMail.PICTURE_ID, picture),
        StandardCharsets.UTF_8);
    Files.writeString(target.resolve("mail-sample.txt"), mail.subject() + "\n\n" + mail.text());
    assertThat(target.resolve("mail-sample.html")).isNotEmptyFile();
  }
}
