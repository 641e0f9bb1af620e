package milewarden.report.page;

import java.util.List;

/** What have I told people? */
public record VerdictsPage(
    String sentence, List<ModelVerdicts> models, List<DraftLink> drafts) {
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
}
