package milewarden.web.page;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import milewarden.report.page.Links;
import milewarden.report.page.model.UnreadModelPage;
import milewarden.report.page.model.UnreadModelPage.Asked;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.Unreadable;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Judgements.Compared;
import milewarden.store.run.Models;
import milewarden.store.run.Runs;
import milewarden.verdict.ModelBrief;
import milewarden.verdict.ModelJudgement;
import milewarden.web.Frame;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** What is known of a model whose judgement is damaged, in the place of a page that needs it. */
final class UnreadModel {
  // What a page can hold of a model that is judged anew within the hour.
  private static final int MOST_RUNS = 200;

  // The whole one, and what is read of its text.
  private static final Set<String> JUDGEMENTS =
      Set.of(ModelJudgement.class.getSimpleName(), ModelBrief.class.getSimpleName());

  private final Desk desk;

  UnreadModel(Desk desk) {
    this.desk = desk;
  }

  /** Shows the page, or what is known where the model's judgement is damaged. */
  void instead(Context http, ModelId id, Asked asked, Runnable page) {
    instead(http, id, asked, "", c -> true, page);
  }

  /**
   * The same.
   *
   * @param words that were typed
   * @param comparison which of its comparisons are shown
   */
  void instead(
      Context http,
      ModelId id,
      Asked asked,
      String words,
      Predicate<Compared> comparison,
      Runnable page) {
    try {
      page.run();
    } catch (Unreadable e) {
      if (!JUDGEMENTS.contains(e.record())) throw e;
      UnreadModelPage rest =
          desk.database().read(tx -> page(tx, id, asked, words, found(tx, id, comparison)));
      if (asked == Asked.COMPARISON && rest.compared().isEmpty()) throw Sent.missing("comparison");
      desk.renderer().show(http, "unreadmodel", Frame.of(rest.name(), "/"), rest);
    }
  }

  private UnreadModelPage page(
      Tx tx, ModelId id, Asked asked, String words, List<UnreadModelPage.Compared> compared) {
    Map<String, List<Runs.Run>> bySession =
        Runs.ofModel(tx, id, MOST_RUNS, 0).stream()
            .collect(
                Collectors.groupingBy(
                    Runs.Run::sessionName, LinkedHashMap::new, Collectors.toList()));
    return UnreadModelPage.of(
        id.value(),
        Models.find(tx, id).orElseThrow(() -> Sent.missing("model")).name(),
        asked,
        words,
        compared,
        bySession.entrySet().stream().map(e -> outing(e.getKey(), e.getValue())).toList(),
        DueEntries.of(DueEntries.sorted(DueItems.open(tx, id)).stream(), desk.digits()),
        VerdictRoutes.lines(tx, id, Optional.empty(), desk.digits()));
  }

  private List<UnreadModelPage.Compared> found(Tx tx, ModelId id, Predicate<Compared> comparison) {
    return Judgements.compared(tx, id).stream()
        .filter(comparison)
        .map(
            c ->
                UnreadModelPage.Compared.of(
                    id.value(),
                    c.candidate(),
                    c.baseline(),
                    c.outcome(),
                    c.because(),
                    c.differencePercent(),
                    c.interval(),
                    c.candidateSessions(),
                    c.baselineSessions(),
                    desk.digits()))
        .toList();
  }

  private UnreadModelPage.Outing outing(String session, List<Runs.Run> runs) {
    return new UnreadModelPage.Outing(
        session,
        Links.session(session),
        desk.digits().date(runs.get(0).date()),
        listed(runs, Runs.Run::firmware),
        listed(runs, Runs.Run::unitName));
  }

  private static String listed(List<Runs.Run> runs, Function<Runs.Run, String> of) {
    return runs.stream().map(of).distinct().sorted().collect(Collectors.joining(", "));
  }
}
