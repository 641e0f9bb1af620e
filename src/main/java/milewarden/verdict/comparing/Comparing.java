package milewarden.verdict.comparing;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeSet;
import milewarden.statistics.Power;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Caution;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Condition;
import milewarden.verdict.Look;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.LookPlan;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;

/** Holds one release against an earlier one: what counts, the looks, the state between them. */
public final class Comparing {
  private final String candidate;
  private final String baseline;
  private final Against against;
  private final Policy policy;
  private final Instant now;
  private final ModelHistory history;
  private final Source.Choice source;
  private final Set<Caution> cautions = new TreeSet<>();
  private final Evidence candidateAll;
  private final Evidence baselineFrozen;
  private final Evidence controls;
  private Optional<Difference> last = Optional.empty();

  public Comparing(
      String candidate,
      String baseline,
      Against against,
      ModelHistory history,
      Policy policy,
      Instant now) {
    this.candidate = candidate;
    this.baseline = baseline;
    this.against = against;
    this.policy = policy;
    this.now = now;
    this.history = history;
    List<PassEvidence> c = history.passesOf(candidate);
    List<PassEvidence> b = history.passesOf(baseline);
    this.source = Source.choose(List.of(c, b), policy.materialChangePercent(), policy);
    this.controls = Evidence.of(source.source(), history.controlPasses());
    Evidence ce = Evidence.of(source.source(), c);
    Evidence be = Evidence.of(source.source(), b);
    Set<String> common = new TreeSet<>(ce.units());
    common.retainAll(be.units());
    // The same units before and after, where there are any.
    if (!common.isEmpty()) {
      ce = ce.where(p -> common.contains(p.unit()));
      be = be.where(p -> common.contains(p.unit()));
    }
    this.baselineFrozen = frozen(ce, be);
    Set<Condition> inBaseline = Set.copyOf(baselineFrozen.conditions());
    this.candidateAll = ce.where(p -> inBaseline.contains(p.condition()));
  }

  /**
   * The baseline's sessions up to the one that makes the first look possible, in order of start: so
   * the baseline does not depend on the order in which files arrive, and does not grow later.
   */
  private Evidence frozen(Evidence c, Evidence b) {
    record Timed(SessionFigure session, boolean candidate) {}
    List<Timed> line = new ArrayList<>();
    for (SessionFigure s : b.sessions()) line.add(new Timed(s, false));
    for (SessionFigure s : c.sessions()) line.add(new Timed(s, true));
    // A stable sort: where both were carried in one outing, the baseline's session comes first.
    line.sort(Comparator.comparing(t -> t.session().start()));
    List<SessionFigure> before = new ArrayList<>();
    List<SessionFigure> after = new ArrayList<>();
    for (Timed t : line) {
      (t.candidate() ? after : before).add(t.session());
      if (sharing(after, before) >= policy.looks().get(0).sessions()
          && sharing(before, after) >= policy.insufficientSessions()) return b.ofSessions(before);
    }
    return b;
  }

  /** How many of the first hold a condition that one of the others holds. */
  private static long sharing(List<SessionFigure> first, List<SessionFigure> others) {
    Set<Condition> there = new LinkedHashSet<>();
    for (SessionFigure s : others)
      for (SessionFigure.OfCondition c : s.conditions()) there.add(c.condition());
    return first.stream()
        .filter(s -> s.conditions().stream().anyMatch(c -> there.contains(c.condition())))
        .count();
  }

  public Comparison compare() {
    List<Look> looks = new ArrayList<>();
    Because waiting = Because.TOO_FEW_SESSIONS;
    List<LookPlan> plans = policy.looks();
    OptionalInt next = OptionalInt.empty();
    int have = candidateAll.sessions().size();
    for (int i = 0; i < plans.size(); i++) {
      if (have < plans.get(i).sessions()) {
        next = OptionalInt.of(plans.get(i).sessions());
        break;
      }
      Difference d = difference(plans.get(i).sessions(), i);
      if (d.estimate().isEmpty()) {
        waiting = d.outcome().because();
        next = OptionalInt.of(plans.get(i).sessions());
        break;
      }
      last = Optional.of(d);
      take(d, i, looks);
    }
    return summary(looks, next, waiting);
  }

  /**
   * Takes the look, or finds it taken; a look on other evidence stays, with a re-look beside it.
   */
  private void take(Difference d, int plan, List<Look> looks) {
    Optional<Look> kept = newestTaken(plan + 1);
    Look look = look(d, plan, kept.isPresent());
    if (kept.isEmpty()) {
      looks.add(look);
      return;
    }
    Look before = kept.get();
    boolean same = look.equals(at(look, before));
    firstTaken(plan + 1).filter(f -> !f.equals(before)).ifPresent(looks::add);
    looks.add(before);
    if (!same) looks.add(look);
    if (looks.stream().anyMatch(Look::reLook)) cautions.add(Caution.RE_LOOK);
  }

  /** The look as it would be, had it been taken when the other was. */
  private static Look at(Look look, Look taken) {
    return new Look(
        look.candidate(),
        look.baseline(),
        look.against(),
        look.number(),
        look.sessions(),
        look.alpha(),
        look.takenAt(),
        look.reLook(),
        taken.source(),
        taken.candidateResults(),
        taken.baselineResults(),
        taken.sides(),
        taken.estimate(),
        taken.conditions(),
        taken.spread(),
        taken.outcome(),
        taken.because());
  }

  private Look look(Difference d, int plan, boolean reLook) {
    LookPlan p = policy.looks().get(plan);
    return new Look(
        candidate,
        baseline,
        against,
        plan + 1,
        p.sessions(),
        alpha(p),
        now,
        reLook,
        source,
        d.candidate().resultIds(),
        d.baseline().resultIds(),
        d.sides(),
        d.estimate().orElseThrow(),
        d.conditions(),
        d.spread(),
        d.outcome().outcome(),
        d.outcome().because());
  }

  private java.util.stream.Stream<Look> taken(int number) {
    return history.looks().stream()
        .filter(
            l ->
                l.number() == number
                    && l.candidate().equals(candidate)
                    && l.baseline().equals(baseline)
                    && l.against() == against)
        .sorted(Comparator.comparing(Look::takenAt));
  }

  private Optional<Look> firstTaken(int number) {
    return taken(number).findFirst();
  }

  private Optional<Look> newestTaken(int number) {
    return taken(number).reduce((a, b) -> b);
  }

  private double alpha(LookPlan plan) {
    return against == Against.ANCHOR ? plan.alpha() : plan.alpha() / 2;
  }

  /** The difference on the first {@code sessions} of the candidate, by the rules of a look. */
  private Difference difference(int sessions, int plan) {
    LookPlan p = policy.looks().get(plan);
    int n = Math.min(sessions, candidateAll.sessions().size());
    Evidence c = candidateAll.ofSessions(candidateAll.sessions().subList(0, n));
    Evidence b = baselineFrozen.in(c.conditions());
    return Difference.of(
        c,
        b,
        controls,
        source,
        new Difference.Rules(
            policy,
            alpha(p),
            p.equivalenceLevel(),
            plan > 0,
            newestTaken(plan + 1).map(Look::estimate),
            history.otherModelsUnits()));
  }

  private Comparison summary(List<Look> looks, OptionalInt next, Because waiting) {
    List<Look> newest = new ArrayList<>();
    for (Look l : looks) {
      newest.removeIf(o -> o.number() == l.number());
      newest.add(l);
    }
    Optional<Difference> d = last;
    if (d.isEmpty() && !candidateAll.isEmpty())
      d = Optional.of(difference(policy.looks().get(0).sessions(), 0));
    d.ifPresent(x -> cautions.addAll(x.cautions()));
    Outcome outcome = Outcome.NOT_SETTLED;
    Because because = candidateAll.isEmpty() ? Because.NO_COMMON_CONDITION : waiting;
    // Between looks the state holds; a look that settles nothing takes nothing back.
    for (Look l : newest)
      if (outcome == Outcome.NOT_SETTLED || l.outcome() != Outcome.NOT_SETTLED) {
        outcome = l.outcome();
        because = l.because();
      }
    if (next.isEmpty()) cautions.add(Caution.CLOSED);
    return new Comparison(
        candidate,
        baseline,
        against,
        source,
        candidateAll.sessions().size(),
        baselineFrozen.in(candidateAll.conditions()).sessions().size(),
        d.map(Difference::sides),
        d.flatMap(Difference::estimate),
        d.map(Difference::conditions).orElse(List.of()),
        d.flatMap(Difference::spread),
        looks,
        next,
        outcome,
        because,
        d.map(this::detectable).orElse(OptionalDouble.empty()),
        needed(d, outcome, next),
        List.copyOf(cautions));
  }

  private OptionalDouble detectable(Difference d) {
    if (d.estimate().isEmpty()) return OptionalDouble.empty();
    Comparison.Estimate e = d.estimate().get();
    double errors = Power.detectable(e.degreesOfFreedom(), d.alpha(), policy.power());
    return OptionalDouble.of(errors * e.standardError());
  }

  /** Sessions still to be run: to the next look, and to find the material change at the last. */
  private OptionalInt needed(Optional<Difference> d, Outcome outcome, OptionalInt next) {
    if (outcome != Outcome.NOT_SETTLED) return OptionalInt.of(0);
    int have = candidateAll.sessions().size();
    int toLook = next.isPresent() ? Math.max(0, next.getAsInt() - have) : 0;
    if (d.isEmpty() || !(d.get().sd() > 0))
      return next.isPresent() ? OptionalInt.of(toLook) : OptionalInt.empty();
    LookPlan last = policy.looks().get(policy.looks().size() - 1);
    OptionalInt total =
        Power.sessionsAgainst(
            policy.materialChangePercent() / d.get().sd(),
            d.get().baseline().sessions().size(),
            alpha(last),
            policy.power());
    if (total.isEmpty()) return toLook > 0 ? OptionalInt.of(toLook) : OptionalInt.empty();
    return OptionalInt.of(Math.max(toLook, total.getAsInt() - have));
  }
}
