package milewarden.verdict.judging;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import milewarden.statistics.Cusum;
import milewarden.units.PercentRange;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement.Monitoring;
import milewarden.verdict.ModelJudgement.SuspectRun;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.Purpose;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.FigureSheet;
import milewarden.verdict.figures.MeanError;
import milewarden.verdict.figures.NextRun;

/** What is watched from run to run: single runs far off, and slow drift inside a release. */
final class Watching {
  private final ModelHistory history;
  private final Policy policy;

  Watching(ModelHistory history, Policy policy) {
    this.history = history;
    this.policy = policy;
  }

  /** The suspect runs of one release, in order of start. */
  List<SuspectRun> suspects(String firmware, Evidence evidence, Purpose purpose) {
    double beyond = policy.suspectLimits() * purpose.meanLimitPercent();
    List<SuspectRun> found = new ArrayList<>();
    for (PassEvidence p : evidence.passes()) {
      PassError e = PassError.of(p, evidence.source()).orElseThrow();
      // The whole of a shown distance's interval must lie beyond.
      if (e.low() <= beyond && e.high() >= -beyond) continue;
      Instant start = p.sessionStart();
      Optional<PercentRange> own = expected(firmware, p, evidence.source(), start);
      if (own.isEmpty() || !(e.low() > own.get().high() || e.high() < own.get().low())) continue;
      boolean repeated =
          evidence.passes().stream()
              .anyMatch(
                  q -> q.sessionStart().isAfter(start) && q.condition().equals(p.condition()));
      found.add(
          new SuspectRun(
              p.resultId(),
              p.session(),
              p.unit(),
              firmware,
              p.condition(),
              start,
              e.asRead(),
              own.get(),
              purpose.meanLimitPercent(),
              evidence.source(),
              repeated));
    }
    return found;
  }

  /**
   * What the model's own earlier sessions in the condition let one expect of a run: of the release
   * itself, else of the newest earlier one with sessions enough.
   */
  private Optional<PercentRange> expected(
      String firmware, PassEvidence run, Source source, Instant before) {
    List<String> versions = history.releases().stream().map(r -> r.release().version()).toList();
    for (int i = versions.indexOf(firmware); i >= 0; i--) {
      List<PassEvidence> earlier =
          history.passesOf(versions.get(i)).stream()
              .filter(p -> p.sessionStart().isBefore(before))
              .filter(p -> p.condition().equals(run.condition()))
              .toList();
      Evidence e = Evidence.of(source, earlier);
      if (e.sessions().size() < policy.insufficientSessions()) continue;
      MeanError mean =
          MeanError.of(e, FigureSheet.unitVariance(e, policy, history.otherModelsUnits()));
      return Optional.of(NextRun.of(e, mean).interval(policy.suspectLevel()));
    }
    return Optional.empty();
  }

  /**
   * The cumulative sums of a release; empty where its sessions are fewer than any decision takes.
   */
  Optional<Monitoring> monitoring(String subject, boolean control, Evidence e) {
    int n = e.sessions().size();
    if (n < policy.insufficientSessions()) return Optional.empty();
    double[] x = e.means();
    double[][] levels = e.shares(e.conditions());
    int known = policy.cusumSessions();
    double[] z = Cusum.selfStarting(x, levels);
    // From then on the parameters are known. The sums run on: what signalled before stays.
    if (n > known) {
      double[] later = Cusum.standardised(x, levels, known);
      System.arraycopy(later, known, z, known, n - known);
    }
    Cusum sums = Cusum.of(z, policy.cusumSlack(), policy.cusumLimit());
    return Optional.of(
        new Monitoring(
            subject,
            control,
            n <= known,
            policy.cusumLimit(),
            sums.high(),
            sums.low(),
            sums.signalAt()));
  }

  /** Each control unit's, by the source that its passes carry most finely. */
  List<Monitoring> controls() {
    List<PassEvidence> all = history.controlPasses();
    List<Monitoring> found = new ArrayList<>();
    all.stream()
        .map(PassEvidence::unit)
        .distinct()
        .sorted(Comparator.naturalOrder())
        .forEach(
            unit -> {
              List<PassEvidence> of = all.stream().filter(p -> p.unit().equals(unit)).toList();
              Source source =
                  Source.choose(List.of(of), policy.materialChangePercent(), policy).source();
              monitoring(unit, true, Evidence.of(source, of)).ifPresent(found::add);
            });
    return found;
  }
}
