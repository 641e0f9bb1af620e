package milewarden.web;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.FirmwareRelease;
import milewarden.device.Gait;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison;
import milewarden.verdict.Condition;
import milewarden.verdict.Conformity;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;
import milewarden.verdict.VerdictState;

/** An invented judgement to look at: no figure of it is a result. */
final class SampleJudgement {
  static final Condition LOOP =
      new Condition("harbour-loop", "a1", SkyView.OPEN, Carriage.SWING_LEFT, Gait.RUN, "");
  static final Condition PATH =
      new Condition("mill-path", "b2", SkyView.PARTLY_OPEN, Carriage.FIXED, Gait.WALK, "");
  private static final Policy POLICY = Policy.defaults();

  private final Random chance = new Random(7);
  private final LocalDate first = LocalDate.of(2026, 3, 2);
  private int serial;

  static ModelJudgement of(String model) {
    return new SampleJudgement().make(model);
  }

  private ModelJudgement make(String model) {
    List<ReleaseJudgement> releases =
        List.of(
            release("1.8.0", 0, 8, 0.45, 0.3),
            release("1.9.0", 40, 6, 0.55, 0.35),
            release("2.0.0", 90, 6, 1.85, 0.4),
            release("2.0.1", 140, 7, 0.5, 0.9),
            release("2.1.0", 190, 2, -0.3, 0.3),
            untested("2.2.0", 230));
    return new ModelJudgement(
        model,
        Instant.parse("2026-11-20T09:00:00Z"),
        "1",
        releases,
        Optional.of("1.8.0"),
        List.of(
            comparison(releases, 1, Comparison.Outcome.EQUIVALENT),
            comparison(releases, 2, Comparison.Outcome.WORSE),
            comparison(releases, 3, Comparison.Outcome.NOT_SETTLED),
            comparison(releases, 4, Comparison.Outcome.NOT_SETTLED)),
        List.of(),
        List.of(),
        List.of(),
        Optional.of(new ModelJudgement.VerdictNow(1, "1.8.0", VerdictState.UNDER_REVIEW)));
  }

  private ReleaseJudgement untested(String version, int day) {
    return new ReleaseJudgement(
        new FirmwareRelease(version, first.plusDays(day), true),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        List.of(),
        List.of(),
        List.of(),
        Optional.empty(),
        0,
        0);
  }

  private ReleaseJudgement release(String version, int day, int sessions, double mean, double sd) {
    List<SessionFigure> list = new ArrayList<>();
    for (int i = 0; i < sessions; i++) list.add(session(first.plusDays(day + 3 * i), mean, sd));
    double m = list.stream().mapToDouble(SessionFigure::meanPercent).average().orElseThrow();
    boolean few = sessions < 3;
    return new ReleaseJudgement(
        new FirmwareRelease(version, first.plusDays(day), false),
        Optional.empty(),
        Optional.of(
            new Source.Choice(
                Source.SHOWN,
                Source.Why.DISPLAY_RESOLVES,
                0.5,
                OptionalDouble.of(0.1),
                OptionalDouble.empty(),
                OptionalInt.empty())),
        Optional.of(figures(Optional.empty(), sessions, m, sd, few)),
        List.of(
            figures(Optional.of(LOOP), sessions, m + 0.1, sd, few),
            figures(Optional.of(PATH), sessions, m - 0.1, sd * 1.2, few)),
        list,
        POLICY.purposes().stream().map(p -> conformity(p, m, few)).toList(),
        Optional.empty(),
        0,
        0);
  }

  private SessionFigure session(LocalDate date, double mean, double sd) {
    double a = mean + 0.1 + sd * chance.nextGaussian();
    double b = mean - 0.1 + sd * chance.nextGaussian();
    return new SessionFigure(
        "S" + ++serial,
        date.atTime(7, 0).toInstant(ZoneOffset.UTC),
        date,
        (a + b) / 2,
        PercentRange.exactly((a + b) / 2),
        List.of(
            new SessionFigure.OfCondition(
                LOOP, a, PercentRange.exactly(a), java.util.Optional.empty()),
            new SessionFigure.OfCondition(
                PATH, b, PercentRange.exactly(b), java.util.Optional.empty())),
        List.of("A1", "A2"),
        8,
        List.of((long) serial),
        true);
  }

  private static ReleaseFigures figures(
      Optional<Condition> condition, int n, double m, double sd, boolean few) {
    double u = 2.5 * sd / Math.sqrt(n);
    double next = 2.6 * sd * Math.sqrt(1 + 1.0 / n);
    return new ReleaseFigures(
        Source.SHOWN,
        condition,
        n,
        n,
        2,
        8 * n,
        m,
        PercentRange.exactly(m),
        few ? OptionalDouble.empty() : OptionalDouble.of(sd),
        few ? OptionalDouble.empty() : OptionalDouble.of(n - 1),
        few ? OptionalDouble.empty() : OptionalDouble.of(u / 2),
        few ? OptionalDouble.empty() : OptionalDouble.of(u),
        few ? Optional.empty() : Optional.of(new PercentRange(m - u, m + u)),
        few ? Optional.empty() : Optional.of(new PercentRange(m - next, m + next)),
        Optional.empty(),
        Math.abs(m),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        0.06,
        true,
        few ? ReleaseFigures.Sufficiency.INSUFFICIENT : ReleaseFigures.Sufficiency.PROVISIONAL,
        false);
  }

  private static Conformity conformity(Policy.Purpose purpose, double m, boolean few) {
    double slack = purpose.meanLimitPercent() - Math.abs(m);
    Conformity.Decision decision =
        few
            ? Conformity.Decision.INSUFFICIENT_EVIDENCE
            : slack > 0.3
                ? Conformity.Decision.PASS
                : slack > 0
                    ? Conformity.Decision.CONDITIONAL_PASS
                    : slack > -0.3
                        ? Conformity.Decision.CONDITIONAL_FAIL
                        : Conformity.Decision.FAIL;
    return new Conformity(
        purpose,
        new Source.Choice(
            Source.SHOWN,
            Source.Why.DISPLAY_RESOLVES,
            purpose.meanLimitPercent(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalInt.empty()),
        decision,
        decision,
        decision,
        false,
        ReleaseFigures.Sufficiency.SUFFICIENT,
        OptionalDouble.of(m),
        OptionalDouble.of(0.3),
        OptionalDouble.of(0.9),
        OptionalDouble.of(0.9),
        OptionalDouble.empty());
  }

  private static Comparison comparison(
      List<ReleaseJudgement> releases, int at, Comparison.Outcome outcome) {
    ReleaseFigures candidate = releases.get(at).pooled().orElseThrow();
    ReleaseFigures baseline = releases.get(0).pooled().orElseThrow();
    double d = candidate.meanPercent() - baseline.meanPercent();
    Optional<Comparison.Estimate> estimate =
        candidate.sessions() < 3 ? Optional.empty() : Optional.of(estimate(d, 0.2));
    return new Comparison(
        releases.get(at).release().version(),
        "1.8.0",
        Comparison.Against.ANCHOR,
        releases.get(at).source().orElseThrow(),
        candidate.sessions(),
        baseline.sessions(),
        Optional.of(new Comparison.Sides(candidate, baseline)),
        estimate,
        List.of(
            new Comparison.OfCondition(
                LOOP, 6, 8, d + 0.6, 0.6, estimate.map(e -> estimate(d + 0.1, 0.3))),
            new Comparison.OfCondition(
                PATH, 6, 8, d + 0.4, 0.4, estimate.map(e -> estimate(d - 0.2, 0.35)))),
        Optional.of(new Comparison.Spread(0.4, 0.3, OptionalDouble.of(1.33), 1.2, 0.29, 0.005)),
        List.of(),
        OptionalInt.of(candidate.sessions() < 3 ? 3 : candidate.sessions() < 6 ? 6 : 12),
        Optional.empty(),
        outcome,
        switch (outcome) {
          case WORSE -> Comparison.Because.MEAN_ERROR_GREW;
          case EQUIVALENT -> Comparison.Because.WITHIN_MATERIAL_CHANGE;
          default ->
              candidate.sessions() < 3
                  ? Comparison.Because.TOO_FEW_SESSIONS
                  : Comparison.Because.INTERVAL_TOO_WIDE;
        },
        OptionalDouble.of(0.8),
        OptionalInt.of(6),
        List.of(Comparison.Caution.UNIT_VARIANCE_UNKNOWN));
  }

  private static Comparison.Estimate estimate(double d, double se) {
    PercentRange i = new PercentRange(d - 2.1 * se, d + 2.1 * se);
    return new Comparison.Estimate(
        d,
        se,
        12,
        i,
        i,
        i,
        0.0002,
        OptionalDouble.of(0.0007),
        OptionalDouble.empty(),
        OptionalDouble.empty());
  }
}
