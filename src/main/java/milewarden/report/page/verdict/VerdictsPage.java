package milewarden.report.page.verdict;

import java.util.List;
import java.util.Optional;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.Status;
import milewarden.report.page.Links;
import milewarden.report.page.PageLink;
import milewarden.report.page.model.ModelPage;
import milewarden.verdict.Findings;

/**
 * What have I told people?
 *
 * @param states which verdicts are shown, and which could be
 * @param unread of models whose judgement, and of verdicts whose record is damaged, in sentences;
 *     empty text where none
 */
public record VerdictsPage(
    String sentence,
    List<PageLink> states,
    List<ModelVerdicts> models,
    List<DraftLink> drafts,
    String unread) {
  public VerdictsPage {
    states = List.copyOf(states);
    models = List.copyOf(models);
    drafts = List.copyOf(drafts);
  }

  /** The verdicts of a model, newest first. */
  public record ModelVerdicts(String model, String link, List<ModelPage.VerdictLine> verdicts) {
    public ModelVerdicts {
      verdicts = List.copyOf(verdicts);
    }

    /** Those in this state. */
    public ModelVerdicts in(Status state) {
      return new ModelVerdicts(
          model, link, verdicts.stream().filter(v -> v.state().equals(state)).toList());
    }
  }

  /** A release on which a verdict can be written. */
  public record DraftLink(String words, String link) {}

  /**
   * The page of all models that have a verdict.
   *
   * @param damaged names of models whose judgement can't be read
   * @param chosen the state in which they are shown; empty for all
   */
  public static VerdictsPage of(
      List<ModelVerdicts> models,
      List<PageLink> states,
      Optional<Status> chosen,
      List<DraftLink> drafts,
      List<String> damaged,
      Digits digits) {
    int count = models.stream().mapToInt(m -> m.verdicts().size()).sum();
    return new VerdictsPage(
        count == 0
            ? "No verdict is published yet."
            : digits.counted(count, "verdict")
                + (count == 1 ? " is" : " are")
                + " on record for "
                + digits.counted(models.size(), "model")
                + ".",
        states,
        models.stream()
            .map(m -> chosen.map(m::in).orElse(m))
            .filter(m -> !m.verdicts().isEmpty())
            .toList(),
        drafts,
        damaged.isEmpty() ? "" : DamageWords.judgements(String.join(", ", damaged)));
  }

  /** The same where some verdicts' records are damaged. */
  public VerdictsPage without(List<String> damaged) {
    if (damaged.isEmpty()) return this;
    String more = DamageWords.verdicts(String.join(", ", damaged));
    return new VerdictsPage(sentence, states, models, drafts, (unread + " " + more).strip());
  }

  /** The newest tested release of a model: a verdict can be written on it. */
  public static Optional<DraftLink> draft(long modelId, Findings judged) {
    return ModelPage.newestTested(judged.releases())
        .map(r -> r.release().version())
        .map(
            v -> new DraftLink(judged.model() + ", firmware " + v, Links.verdictDraft(modelId, v)));
  }
}
