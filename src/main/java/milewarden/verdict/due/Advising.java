package milewarden.verdict.due;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeSet;
import milewarden.course.Direction;
import milewarden.statistics.Distributions;
import milewarden.verdict.Comparison;
import milewarden.verdict.Condition;
import milewarden.verdict.DueItem;
import milewarden.verdict.DueItem.Advice;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelJudgement.SuspectRun;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.LookPlan;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.figures.Evidence;

/** Says what to run next. */
final class Advising {
  private final ModelHistory history;
  private final Policy policy;
  private final List<ReleaseJudgement> releases;
  private final Optional<String> anchor;

  Advising(
      ModelHistory history,
      Policy policy,
      List<ReleaseJudgement> releases,
      Optional<String> anchor) {
    this.history = history;
    this.policy = policy;
    this.releases = releases;
    this.anchor = anchor;
  }

  /** No more runs: read the figures and write. */
  Advice none() {
    return new Advice(OptionalInt.of(0), List.of(), Optional.empty(), OptionalDouble.empty());
  }

  /** So many sessions of a release, where the anchor was tested. */
  Advice forRelease(String version, int sessions) {
    List<Condition> conditions = thinnestFirst(version);
    return new Advice(
        OptionalInt.of(sessions), conditions, next(version, conditions), OptionalDouble.empty());
  }

  Advice forComparison(Comparison c) {
    if (c.sessionsNeeded().isPresent() && c.sessionsNeeded().getAsInt() == 0) return none();
    List<Condition> conditions = thinnestFirst(c.candidate());
    return new Advice(c.sessionsNeeded(), conditions, next(c.candidate(), conditions), chance(c));
  }

  Advice repeat(SuspectRun s) {
    List<Condition> only = List.of(s.condition());
    List<PassEvidence> run =
        history.passes().stream().filter(p -> p.resultId() == s.resultId()).toList();
    Optional<DueItem.NextRun> same =
        run.stream()
            .findFirst()
            .map(p -> new DueItem.NextRun(s.condition(), s.unit(), p.direction()));
    return new Advice(OptionalInt.of(1), only, same, OptionalDouble.empty());
  }

  /** The anchor's conditions, else the newest tested release's: fewest sessions of ours first. */
  private List<Condition> thinnestFirst(String version) {
    List<Condition> wanted = new ArrayList<>(anchor.map(this::conditions).orElse(List.of()));
    if (wanted.isEmpty())
      for (ReleaseJudgement r : releases)
        if (r.tested()) wanted = new ArrayList<>(conditions(r.release().version()));
    List<PassEvidence> ours = history.passesOf(version);
    wanted.sort(
        Comparator.<Condition>comparingLong(
                c ->
                    ours.stream()
                        .filter(p -> p.exclusion().isEmpty() && p.condition().equals(c))
                        .map(PassEvidence::session)
                        .distinct()
                        .count())
            .thenComparing(Evidence.BY_CONDITION));
    return wanted;
  }

  private List<Condition> conditions(String version) {
    return releases.stream()
        .filter(r -> r.release().version().equals(version))
        .flatMap(r -> r.byCondition().stream())
        .flatMap(f -> f.condition().stream())
        .toList();
  }

  /**
   * The unit and direction with the fewest passes in the thinnest condition. Between equals units
   * and directions take turns by the number of passes so far: the rows of a Latin square.
   */
  private Optional<DueItem.NextRun> next(String version, List<Condition> conditions) {
    if (conditions.isEmpty()) return Optional.empty();
    Condition condition = conditions.get(0);
    List<String> units =
        new ArrayList<>(
            new TreeSet<>(
                history.passes().stream()
                    .filter(p -> !p.control() && p.model().equals(history.model()))
                    .map(PassEvidence::unit)
                    .toList()));
    if (units.isEmpty()) return Optional.empty();
    List<PassEvidence> so =
        history.passesOf(version).stream()
            .filter(p -> p.exclusion().isEmpty() && p.condition().equals(condition))
            .toList();
    List<DueItem.NextRun> cells = new ArrayList<>();
    for (int i = 0; i < units.size(); i++)
      for (int k = 0; k < 2; k++) {
        String unit = units.get((i + so.size()) % units.size());
        Direction direction = Direction.values()[(k + i + so.size()) % 2];
        cells.add(new DueItem.NextRun(condition, unit, direction));
      }
    return cells.stream().min(Comparator.comparingLong(cell -> count(so, cell)));
  }

  private static long count(List<PassEvidence> passes, DueItem.NextRun cell) {
    return passes.stream()
        .filter(p -> p.unit().equals(cell.unit()) && p.direction() == cell.direction())
        .count();
  }

  /**
   * The chance that the next look finds a material change, given today's difference: the estimate
   * then is today's plus what the new sessions add, whose variance is what the standard error
   * loses.
   */
  private OptionalDouble chance(Comparison c) {
    if (c.estimate().isEmpty() || c.nextLookAt().isEmpty()) return OptionalDouble.empty();
    Comparison.Estimate e = c.estimate().get();
    int have = Math.max(1, c.sides().map(s -> s.candidate().sessions()).orElse(1));
    int base = Math.max(1, c.baselineSessions());
    double shrink = (1.0 / c.nextLookAt().getAsInt() + 1.0 / base) / (1.0 / have + 1.0 / base);
    double then = e.standardError() * Math.sqrt(Math.min(1, shrink));
    double adds = e.standardError() * Math.sqrt(Math.max(0, 1 - shrink));
    if (!(adds > 0)) return OptionalDouble.empty();
    LookPlan plan =
        policy.looks().stream()
            .filter(p -> p.sessions() == c.nextLookAt().getAsInt())
            .findFirst()
            .orElseThrow();
    double df = e.degreesOfFreedom() + c.nextLookAt().getAsInt() - have;
    double bar =
        Math.max(
            policy.materialChangePercent(), then * Distributions.tFactor(1 - plan.alpha(), df));
    double above = Distributions.tCdf((e.percent() - bar) / adds, e.degreesOfFreedom());
    double below = Distributions.tCdf((-e.percent() - bar) / adds, e.degreesOfFreedom());
    return OptionalDouble.of(above + below);
  }
}
