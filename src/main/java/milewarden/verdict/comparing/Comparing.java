package milewarden.verdict.comparing;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Because;
import milewarden.verdict.Comparison.Caution;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Look;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.LookPlan;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.figures.Evidence;

/** Holds one release against an earlier one: what counts, the looks, the state between them. */
public final class Comparing {
  private final String candidate;
  private final String baseline;
  private final Against against;
  private final Policy policy;
  private final Instant now;
  private final Gathered gathered;
  private final ModelHistory history;
  private final TakenLooks taken;
  private final Ground ground;
  private final Set<Caution> cautions = new TreeSet<>();
  private Optional<Difference> last = Optional.empty();
  private Optional<Instant> waits = Optional.empty();
  private Because waiting = Because.TOO_FEW_SESSIONS;
  private List<String> before = List.of();

  public Comparing(
      String candidate, String baseline, Against against, Gathered gathered, Instant now) {
    this.candidate = candidate;
    this.baseline = baseline;
    this.against = against;
    this.policy = gathered.policy();
    this.now = now;
    this.gathered = gathered;
    this.history = gathered.history();
    this.taken = new TakenLooks(history, candidate, baseline, against);
    this.ground = Ground.of(gathered, candidate, baseline, Optional.empty());
  }

  private int have() {
    return ground.candidate().sessions().size();
  }

  /** As things stand now. */
  public Comparison compare() {
    List<Look> looks = new ArrayList<>();
    OptionalInt next = OptionalInt.empty();
    for (int i = 0; i < policy.looks().size(); i++) {
      LookPlan plan = policy.looks().get(i);
      looks.addAll(taken.of(i + 1));
      // A look that was taken is taken again on what is left, should sessions have been excluded.
      boolean due = have() >= plan.sessions() || (i < taken.last() && have() >= 2);
      boolean isTaken = due && take(i, looks);
      if (!isTaken && next.isEmpty() && taken.of(i + 1).isEmpty())
        next = OptionalInt.of(plan.sessions());
    }
    if (looks.stream().anyMatch(Look::reLook)) cautions.add(Caution.RE_LOOK);
    return summary(looks, next);
  }

  /**
   * Takes a look that is due.
   *
   * @return false where it has to wait, or gives no estimate
   */
  private boolean take(int plan, List<Look> looks) {
    Draw draw = draw(plan);
    Optional<Instant> until = waitsUntil(draw);
    if (until.isPresent()) {
      before = TakenLooks.keys(draw.sessions());
      if (waits.isEmpty()) waits = until;
      if (waiting == Because.TOO_FEW_SESSIONS) waiting = Because.STILL_COMING_IN;
      return false;
    }
    Difference d = difference(plan, draw.on(), draw.sessions());
    if (d.estimate().isEmpty()) {
      waiting = d.outcome().because();
      return false;
    }
    last = Optional.of(d);
    before = TakenLooks.keys(draw.sessions());
    keep(d, draw, plan, looks);
    return true;
  }

  /**
   * What a look is taken on.
   *
   * @param fixed true where it was taken before and keeps its sessions
   */
  private record Draw(Ground on, List<SessionFigure> sessions, boolean fixed) {}

  /**
   * The sessions of a look: those that it was taken on, else those of the look before and the next
   * in order of start. So a session that comes late moves no look that was taken, and a change is
   * called as often as the alphas say in whatever order files arrive.
   */
  private Draw draw(int plan) {
    Optional<Look.Drawn> kept = taken.kept(plan + 1);
    Ground on = kept.map(Look.Drawn::baseline).map(this::on).orElse(ground);
    int n = Math.min(policy.looks().get(plan).sessions(), on.candidate().sessions().size());
    boolean lasting = plan > 0 && taken.kept(plan).isPresent();
    List<String> first = kept.map(Look.Drawn::candidate).orElse(lasting ? before : List.of());
    List<SessionFigure> drawn = TakenLooks.drawn(on.candidate().sessions(), first, n);
    return new Draw(on, drawn, kept.isPresent());
  }

  /** Until when the look waits for its sessions, and those of the baseline, to be whole. */
  private Optional<Instant> waitsUntil(Draw draw) {
    if (history.arrivals().last().isEmpty()) return Optional.empty();
    Duration quiet = Duration.ofMinutes(policy.lookQuietMinutes());
    Instant begun = history.latestStart().orElse(now);
    return Stream.of(draw.sessions(), draw.on().baseline().sessions())
        .flatMap(side -> history.arrivals().waitFor(side, quiet, begun, now).stream())
        .max(Instant::compareTo);
  }

  private Ground on(List<String> baselineSessions) {
    return TakenLooks.keys(ground.baseline().sessions()).equals(baselineSessions)
        ? ground
        : Ground.of(gathered, candidate, baseline, Optional.of(baselineSessions));
  }

  /** Keeps the look, and beside it the one that late sessions would have made of it. */
  private void keep(Difference taking, Draw draw, int plan, List<Look> looks) {
    Look look = look(taking, draw.on(), plan, false);
    if (!taken.holds(look)) looks.add(look);
    if (!draw.fixed()) return;
    int n = Math.min(policy.looks().get(plan).sessions(), have());
    List<SessionFigure> first = ground.candidate().sessions().subList(0, n);
    if (TakenLooks.keys(first).equals(TakenLooks.keys(draw.sessions())) && draw.on() == ground)
      return;
    Difference d = difference(plan, ground, first);
    if (d.estimate().isEmpty()) return;
    Look other = look(d, ground, plan, true);
    if (!taken.holds(other)) looks.add(other);
  }

  private Look look(Difference d, Ground on, int plan, boolean beside) {
    LookPlan p = policy.looks().get(plan);
    return new Look(
        candidate,
        baseline,
        against,
        plan + 1,
        p.sessions(),
        d.alpha(),
        now,
        !taken.of(plan + 1).isEmpty(),
        on.source(),
        d.candidate().resultIds(),
        d.baseline().resultIds(),
        d.sides(),
        d.estimate().orElseThrow(),
        d.conditions(),
        d.spread(),
        d.outcome().outcome(),
        d.outcome().because(),
        beside,
        Optional.of(
            new Look.Drawn(
                TakenLooks.keys(d.candidate().sessions()),
                TakenLooks.keys(on.baseline().sessions()))));
  }

  /** The difference on these of the candidate's sessions, by the rules of a look. */
  private Difference difference(int plan, Ground on, List<SessionFigure> sessions) {
    LookPlan p = policy.looks().get(plan);
    Evidence c = on.candidate().ofSessions(sessions);
    Set<Like> likes = Likeness.likes(c);
    Evidence b = Likeness.keep(on.baseline(), likes::contains);
    return Difference.of(
        c,
        b,
        on,
        new Difference.Rules(
            policy,
            StillNeeded.alpha(p, against),
            p.equivalenceLevel(),
            plan > 0,
            history.otherModelsUnits(),
            taken.numbered(plan + 1)));
  }

  private Comparison summary(List<Look> looks, OptionalInt next) {
    StillNeeded still = new StillNeeded(policy, against, have());
    Optional<Difference> d = last;
    if (d.isEmpty() && !ground.candidate().isEmpty()) {
      int n = Math.min(policy.looks().get(0).sessions(), have());
      d = Optional.of(difference(0, ground, ground.candidate().sessions().subList(0, n)));
    }
    d.ifPresent(x -> cautions.addAll(x.cautions()));
    if (next.isEmpty()) cautions.add(Caution.CLOSED);
    Outcome outcome = Outcome.NOT_SETTLED;
    Because because = ground.candidate().isEmpty() ? Because.NO_COMMON_CONDITION : waiting;
    // Between looks the state holds; a look that settles nothing takes nothing back.
    for (Look l : TakenLooks.newest(looks))
      if (outcome == Outcome.NOT_SETTLED || l.outcome() != Outcome.NOT_SETTLED) {
        outcome = l.outcome();
        because = l.because();
      }
    return new Comparison(
        candidate,
        baseline,
        against,
        ground.source(),
        have(),
        ground.baseline().in(ground.candidate().conditions()).sessions().size(),
        d.map(Difference::sides),
        d.flatMap(Difference::estimate),
        d.map(Difference::conditions).orElse(List.of()),
        d.flatMap(Difference::spread),
        looks,
        next,
        waits,
        outcome,
        because,
        d.map(still::detectable).orElse(OptionalDouble.empty()),
        outcome == Outcome.NOT_SETTLED ? still.needed(d, next) : OptionalInt.of(0),
        List.copyOf(cautions));
  }
}
