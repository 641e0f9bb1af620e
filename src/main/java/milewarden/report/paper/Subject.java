package milewarden.report.paper;

import java.util.List;
import java.util.Optional;
import milewarden.report.page.verdict.VerdictPage;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PlanOnRecord;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.place.MeanLadder;

/**
 * What a report is made of.
 *
 * @param firmware the release
 * @param judged the model as it is judged now
 * @param published the verdict whose figures the report gives as they stood; where empty, the
 *     report gives today's and says so
 * @param ladders of the model's releases, as measured now
 * @param policy in force now
 * @param open false leaves out what was not published: the other releases and today's ladder
 * @param plan of the campaign and what was done otherwise: the published one as it stood
 * @param capsule address of the archive, from where the report lies; empty where there is none
 */
public record Subject(
    String firmware,
    ModelJudgement judged,
    Optional<Published> published,
    List<MeanLadder> ladders,
    Policy policy,
    boolean open,
    Optional<PlanOnRecord> plan,
    Optional<String> capsule) {
  public Subject {
    ladders = List.copyOf(ladders);
  }

  /** A verdict and what became of it. */
  public record Published(PublishedVerdict verdict, VerdictPage.Fate fate) {}
}
