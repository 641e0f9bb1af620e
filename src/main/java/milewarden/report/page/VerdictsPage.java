package milewarden.report.page;

import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.verdict.ModelJudgement;

/** What have I told people? */
public record VerdictsPage(String sentence, List<ModelVerdicts> models, List<DraftLink> drafts) {
  public VerdictsPage {
    models = List.copyOf(models);
    drafts = List.copyOf(drafts);
  }

  /** The verdicts of a model, newest first. */
  public record ModelVerdicts(String model, String link, List<ModelPage.VerdictLine> verdicts) {
    public ModelVerdicts {
      verdicts = List.copyOf(verdicts);
    }
  }

  /** A release on which a verdict can be written. */
  public record DraftLink(String words, String link) {}

  /** The page of all models that have a verdict. */
  public static VerdictsPage of(List<ModelVerdicts> models, List<DraftLink> drafts, Digits digits) {
    int count = models.stream().mapToInt(m -> m.verdicts().size()).sum();
    return new VerdictsPage(
        count == 0
            ? "No verdict is published yet."
            : digits.counted(count, "verdict")
                + (count == 1 ? " is" : " are")
                + " on record for "
                + digits.counted(models.size(), "model")
                + ".",
        models,
        drafts);
  }

  /** The newest tested release of a model: a verdict can be written on it. */
  public static Optional<DraftLink> draft(long modelId, ModelJudgement judged) {
    return ModelPage.newestTested(judged)
        .map(r -> r.release().version())
        .map(
            v -> new DraftLink(judged.model() + ", firmware " + v, Links.verdictDraft(modelId, v)));
  }
}
