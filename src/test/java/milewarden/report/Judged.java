package milewarden.report;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.FirmwareRelease;
import milewarden.device.Gait;
import milewarden.units.PercentRange;
import milewarden.verdict.Comparison;
import milewarden.verdict.Condition;
import milewarden.verdict.Conformity;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.Source;
import milewarden.verdict.Threshold;

/** A judgement of an invented model, by hand, for tests of words. */
public final class Judged {
  public static final Condition LOOP =
      new Condition(
          "mill-meadow-loop", "v1", SkyView.OPEN, Carriage.SWING_LEFT, Gait.RUN, "1 s, two bands");

  private Judged() {}

  public static ReleaseFigures figures(
      int sessions, double mean, double u, double low, double high) {
    return new ReleaseFigures(
        Source.SHOWN,
        Optional.empty(),
        sessions,
        sessions,
        1,
        2 * sessions,
        mean,
        PercentRange.exactly(mean),
        OptionalDouble.of(0.4),
        OptionalDouble.of(sessions - 1),
        OptionalDouble.of(u / 2),
        OptionalDouble.of(u),
        Optional.of(new PercentRange(mean - u, mean + u)),
        Optional.of(new PercentRange(low, high)),
        Optional.empty(),
        Math.abs(mean),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        0.05,
        true,
        ReleaseFigures.Sufficiency.PROVISIONAL,
        false);
  }

  public static ReleaseJudgement release(
      String version, LocalDate date, Optional<ReleaseFigures> pooled) {
    Optional<Threshold> threshold =
        pooled.map(
            f ->
                new Threshold(
                    Threshold.State.CLEARED, "pacing", 1.0, source(), f.interval(), List.of()));
    return new ReleaseJudgement(
        new FirmwareRelease(version, date, false),
        Optional.empty(),
        Optional.empty(),
        pooled,
        List.of(),
        List.of(),
        List.of(),
        threshold,
        0,
        0);
  }

  public static Source.Choice source() {
    return new Source.Choice(
        Source.SHOWN,
        Source.Why.DISPLAY_RESOLVES,
        1.0,
        OptionalDouble.of(0.1),
        OptionalDouble.empty(),
        OptionalInt.empty());
  }

  public static ModelJudgement model() {
    return new ModelJudgement(
        "Fell 2",
        Instant.parse("2026-11-20T18:00:00Z"),
        "1",
        List.of(
            release(
                "1.9.0", LocalDate.of(2026, 3, 1), Optional.of(figures(8, 0.42, 0.31, -0.6, 1.4))),
            release(
                "2.0.0", LocalDate.of(2026, 6, 1), Optional.of(figures(8, 0.58, 0.38, -0.4, 1.6))),
            release(
                "2.1.0", LocalDate.of(2026, 9, 1), Optional.of(figures(6, 1.87, 0.47, 0.8, 3.0))),
            release("2.2.0", LocalDate.of(2026, 11, 1), Optional.empty())),
        Optional.of("2.0.0"),
        List.of(comparison()),
        List.of(),
        List.of(),
        List.of(worse()),
        Optional.empty());
  }

  public static Comparison comparison() {
    return new Comparison(
        "2.1.0",
        "2.0.0",
        Comparison.Against.ANCHOR,
        source(),
        6,
        8,
        Optional.of(
            new Comparison.Sides(
                figures(6, 1.87, 0.47, 0.8, 3.0), figures(8, 0.58, 0.38, -0.4, 1.6))),
        Optional.empty(),
        List.of(),
        Optional.empty(),
        List.of(),
        OptionalInt.of(12),
        Optional.empty(),
        Comparison.Outcome.WORSE,
        Comparison.Because.MEAN_ERROR_GREW,
        OptionalDouble.of(0.8),
        OptionalInt.of(0),
        List.of());
  }

  public static DueItem worse() {
    return item(
        DueItem.Kind.VERDICT_UPDATE_DUE,
        DueItem.Severity.REGRESSION,
        DueItem.Cause.COMPARISON_WORSE,
        "2.1.0",
        new DueItem.Facts(
            Optional.of("2.0.0"),
            List.of(),
            OptionalDouble.of(1.29),
            Optional.of(new PercentRange(0.71, 1.87)),
            OptionalDouble.empty(),
            OptionalInt.of(6),
            OptionalInt.of(12),
            Optional.empty(),
            Optional.empty(),
            Optional.of(Comparison.Because.MEAN_ERROR_GREW),
            Optional.of(Source.SHOWN)),
        advice(OptionalInt.of(0)));
  }

  /** Only the spread was found to have changed; the mean error moved by what is no change. */
  public static DueItem noisier() {
    return item(
        DueItem.Kind.VERDICT_UPDATE_DUE,
        DueItem.Severity.REGRESSION,
        DueItem.Cause.COMPARISON_CHANGED,
        "2.1.0",
        new DueItem.Facts(
            Optional.of("2.0.0"),
            List.of(),
            OptionalDouble.of(0.4),
            Optional.of(new PercentRange(-0.5, 1.3)),
            OptionalDouble.empty(),
            OptionalInt.of(12),
            OptionalInt.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.of(Comparison.Because.SPREAD_GREW),
            Optional.of(Source.SHOWN),
            Optional.of(
                new Comparison.Spread(1.26, 0.38, OptionalDouble.of(3.3), 14.2, 0.0011, 0.00225)),
            Optional.empty()),
        advice(OptionalInt.of(0)));
  }

  public static DueItem untested() {
    return item(
        DueItem.Kind.RETEST_DUE,
        DueItem.Severity.STALE,
        DueItem.Cause.NEWER_FIRMWARE,
        "2.2.0",
        facts(Optional.of("2.1.0")),
        advice(OptionalInt.of(3)));
  }

  public static DueItem changedDecision() {
    DueItem.Facts facts =
        new DueItem.Facts(
            Optional.of("2.0.0"),
            List.of(
                new DueItem.DecisionChange(
                    "pacing", Conformity.Decision.PASS, Conformity.Decision.FAIL)),
            OptionalDouble.of(1.87),
            Optional.of(new PercentRange(1.4, 2.34)),
            OptionalDouble.of(1.0),
            OptionalInt.of(6),
            OptionalInt.empty(),
            Optional.of(LocalDate.of(2026, 7, 2)),
            Optional.of("mill-meadow-loop"),
            Optional.empty(),
            Optional.of(Source.SHOWN));
    return item(
        DueItem.Kind.VERDICT_UPDATE_DUE,
        DueItem.Severity.VERDICT_WRONG,
        DueItem.Cause.DECISION_CHANGED,
        "2.1.0",
        facts,
        advice(OptionalInt.empty()));
  }

  public static DueItem of(DueItem.Cause cause, DueItem.Facts facts) {
    return item(
        DueItem.Kind.RETEST_DUE,
        DueItem.Severity.HOUSEKEEPING,
        cause,
        "2.1.0",
        facts,
        new DueItem.Advice(
            OptionalInt.empty(),
            List.of(),
            Optional.empty(),
            OptionalDouble.empty(),
            Optional.empty()));
  }

  public static DueItem.Facts facts(Optional<String> other) {
    return new DueItem.Facts(
        other,
        List.of(),
        OptionalDouble.empty(),
        Optional.empty(),
        OptionalDouble.empty(),
        OptionalInt.empty(),
        OptionalInt.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  private static DueItem item(
      DueItem.Kind kind,
      DueItem.Severity severity,
      DueItem.Cause cause,
      String firmware,
      DueItem.Facts facts,
      DueItem.Advice advice) {
    return new DueItem(
        "k-" + cause, kind, severity, cause, "Fell 2", firmware, facts, advice, List.of(1L));
  }

  private static DueItem.Advice advice(OptionalInt sessions) {
    return new DueItem.Advice(
        sessions,
        List.of(LOOP),
        Optional.of(new DueItem.NextRun(LOOP, "fell-2-a", Direction.REVERSE)),
        OptionalDouble.of(0.34),
        Optional.empty());
  }
}
