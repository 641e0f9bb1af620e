package milewarden.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import milewarden.report.page.model.ModelPage;
import milewarden.report.page.model.ModelSessionsPage;
import milewarden.verdict.ModelExcerpt;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SessionFigure;
import org.junit.jupiter.api.Test;

/** A model of more sessions than its page shows. */
final class ManySessionsTest {
  private static final int SHOWN = 3;

  private final ModelJudgement judged = SampleJudgement.of("Thessamor 2");
  private final ModelExcerpt excerpt = ModelExcerpt.of(judged, SHOWN);

  @Test
  void anExcerptHasTheNewestSessionsOfEachReleaseAndAllFigures() {
    for (int i = 0; i < judged.releases().size(); i++) {
      ReleaseJudgement all = judged.releases().get(i);
      ReleaseJudgement few = excerpt.judged().releases().get(i);
      assertThat(excerpt.sessions().get(i)).isEqualTo(all.sessions().size());
      assertThat(few.sessions()).hasSize(Math.min(SHOWN, all.sessions().size()));
      assertThat(all.sessions()).endsWith(few.sessions().toArray(SessionFigure[]::new));
      assertThat(few.pooled()).isEqualTo(all.pooled());
      assertThat(few.conformity()).isEqualTo(all.conformity());
    }
    assertThat(excerpt.judged().looks()).hasSameSizeAs(judged.looks());
    assertThat(excerpt.conditions()).isEqualTo(ModelExcerpt.whole(judged).conditions());
  }

  @Test
  void aPageSaysHowManySessionsItLeavesOutAndWhereTheyAre() {
    ModelPage page = page(excerpt);
    int all = judged.releases().stream().mapToInt(r -> r.sessions().size()).sum();
    assertThat(page.allSessions().replace('\u00a0', ' ')).isEqualTo(all + " sessions");
    assertThat(page.chartCaption().replace('\u00a0', ' '))
        .startsWith("Open marks: the newest 3 of each release, of " + all + " sessions in all");
    assertThat(
            new Renderer()
                .render("model.jte", new Shown<>(page, Frame.of(page.name(), "/"), "", "{}")))
        .contains("<a href=\"/models/1/sessions\">All " + page.allSessions() + "</a>");
  }

  @Test
  void aPageThatShowsAllSessionsSaysNothingOfOthers() {
    ModelPage page = page(ModelExcerpt.whole(judged));
    assertThat(page.allSessions()).isEmpty();
    assertThat(page.chart().sessions()).hasSameSizeAs(page.sessions());
    assertThat(
            new Renderer()
                .render("model.jte", new Shown<>(page, Frame.of(page.name(), "/"), "", "{}")))
        .doesNotContain("/sessions\"");
  }

  @Test
  void thePartsOfTheListTogetherAreAllSessions() {
    List<ModelSessionsPage.Row> whole = page(ModelExcerpt.whole(judged)).sessions();
    List<ModelSessionsPage.Row> parts = new ArrayList<>();
    int from = 0;
    String older;
    do {
      ModelSessionsPage part = ModelSessionsPage.of(1, judged, from, 4, Gallery.DIGITS);
      assertThat(part.sessions()).hasSizeLessThanOrEqualTo(4);
      assertThat(part.newer().isEmpty()).isEqualTo(from == 0);
      parts.addAll(part.sessions());
      older = part.older();
      from = older.isEmpty() ? 0 : Integer.parseInt(older.replaceAll(".*from=", ""));
    } while (!older.isEmpty());
    assertThat(parts).hasSizeGreaterThan(8).isEqualTo(whole);
  }

  @Test
  void aPartBeyondTheLastIsEmptyAndLeadsBack() {
    ModelSessionsPage beyond = ModelSessionsPage.of(1, judged, 100_000, 200, Gallery.DIGITS);
    assertThat(beyond.sessions()).isEmpty();
    assertThat(beyond.newer()).startsWith("/models/1/sessions");
    assertThat(beyond.older()).isEmpty();
  }

  private static ModelPage page(ModelExcerpt excerpt) {
    return ModelPage.of(
        1,
        excerpt,
        false,
        false,
        List.of(),
        Policy.defaults(),
        List.of(),
        List.of(),
        List.of(),
        Gallery.DIGITS);
  }
}
