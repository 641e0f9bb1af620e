package milewarden.report.page;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.verdict.Conformity;
import milewarden.verdict.Findings;
import milewarden.verdict.Policy;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.SessionFigure;

/** What is said of a release and of a session in a line or two. */
public final class ReleaseWords {
  private ReleaseWords() {}

  /** The mean with its uncertainty and sessions, or the word for what is missing. */
  public static String mean(Findings.OfRelease r, Digits digits) {
    return r.pooled().map(f -> mean(f, digits)).orElse(Digits.NOT_TESTED);
  }

  public static String mean(ReleaseFigures f, Digits digits) {
    return f.expandedUncertaintyPercent().isPresent()
        ? digits.percentWithin(f.meanPercent(), f.expandedUncertaintyPercent().getAsDouble())
        : digits.percent(f.meanPercent());
  }

  /** The standard deviation between sessions. */
  public static String spread(ReleaseFigures f, Digits digits) {
    return f.sdPercent().isPresent()
        ? digits.limit(Math.round(100 * f.sdPercent().getAsDouble()) / 100.0)
        : "not known yet";
  }

  public static String basis(ReleaseFigures f, Digits digits) {
    return digits.sessions(f.sessions())
        + ", "
        + digits.counted(f.days(), "day")
        + ", "
        + digits.counted(f.units(), "unit")
        + (f.sufficiency() == ReleaseFigures.Sufficiency.PROVISIONAL ? "; provisional" : "");
  }

  public static String nextRun(Findings.OfRelease r, Digits digits) {
    if (r.pooled().isEmpty()) return Digits.NOT_TESTED;
    return r.pooled()
        .flatMap(ReleaseFigures::nextRun)
        .map(digits::interval)
        .orElse("not known yet");
  }

  /** <i>insufficient evidence, n more sessions</i>, or that nothing was run; empty where enough. */
  public static Optional<String> missing(Findings.OfRelease r, Policy policy, Digits digits) {
    if (r.pooled().isEmpty()) return Optional.of(Digits.NOT_TESTED);
    ReleaseFigures f = r.pooled().get();
    int more = policy.insufficientSessions() - f.sessions();
    return f.sufficiency() == ReleaseFigures.Sufficiency.INSUFFICIENT
        ? Optional.of(
            "insufficient evidence, " + more + " more " + (more == 1 ? "session" : "sessions"))
        : Optional.empty();
  }

  /** Until when the threshold and the purposes wait for the rest of a session; empty if not. */
  public static Optional<String> waiting(Findings.OfRelease r, Digits digits) {
    return r.waitsUntil()
        .map(until -> "decisions wait for the rest of the session until " + digits.moment(until));
  }

  /** True where there is enough for a decision once what is waited for has come. */
  public static boolean decidedLater(Findings.OfRelease r) {
    return r.waitsUntil().isPresent()
        && r.pooled()
            .filter(f -> f.sufficiency() != ReleaseFigures.Sufficiency.INSUFFICIENT)
            .isPresent()
        && r.conformity().stream()
            .allMatch(c -> c.decision() == Conformity.Decision.INSUFFICIENT_EVIDENCE);
  }

  public static String allOf(ReleaseJudgement r, Policy policy, Digits digits) {
    List<String> lines = new ArrayList<>();
    lines.add(r.release().version() + ", " + digits.date(r.release().date()));
    r.pooled().ifPresent(f -> addFigures(lines, f, digits));
    missing(r, policy, digits).ifPresent(lines::add);
    return String.join("\n", lines);
  }

  private static void addFigures(List<String> lines, ReleaseFigures f, Digits digits) {
    lines.add("mean " + mean(f, digits) + " (" + digits.sessions(f.sessions()) + ")");
    f.nextRun().ifPresent(n -> lines.add("next run " + digits.interval(n)));
  }

  public static String session(
      SessionFigure s, SessionFigure.OfCondition each, ConditionNames names, Digits digits) {
    return digits.percent(each.meanPercent(), 2)
        + "\n"
        + names.of(each.condition())
        + "\n"
        + digits.date(s.date())
        + ", "
        + String.join(", ", s.units())
        + (each.oneDirection() ? "\none direction only" : "");
  }
}
