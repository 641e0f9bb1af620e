package milewarden.report;

import java.util.ArrayList;
import java.util.List;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.CampaignPlan.Planned;
import milewarden.verdict.PlanOnRecord;
import milewarden.verdict.PlanOnRecord.Deviation;
import milewarden.verdict.plan.Needed;

/** Plans of campaigns and what was done otherwise, in sentences. */
public final class PlanWords {
  private PlanWords() {}

  public static String of(Planned c) {
    return c.course() + ", " + Words.of(c.gait()) + ", " + Words.of(c.carriage());
  }

  public static String of(CampaignPlan.Stop stop) {
    return switch (stop) {
      case WHEN_SETTLED -> "as soon as a look settles it";
      case AT_THE_LAST_LOOK -> "at the last look, whatever an earlier one says";
    };
  }

  /** By whom and when, and since when it is locked. */
  public static String status(PlanOnRecord p, Digits digits) {
    return "Planned by "
        + p.plan().by()
        + " on "
        + digits.moment(p.plan().at())
        + "; "
        + p.lockedAt()
            .map(at -> "locked by the first file, taken in on " + digits.moment(at) + ".")
            .orElse("it can be replaced until the first file is taken in.");
  }

  /** What was done otherwise; says so where nothing was. */
  public static List<String> otherwise(PlanOnRecord p, Digits digits) {
    return p.deviations().isEmpty()
        ? List.of("Nothing was done otherwise than planned.")
        : p.deviations().stream().map(d -> of(d, digits)).toList();
  }

  /** The plan in sentences. */
  public static List<String> of(CampaignPlan plan, Digits digits) {
    List<String> all = new ArrayList<>();
    all.add(
        plan.firmware()
            + " of "
            + plan.model()
            + " is to be held against "
            + plan.baseline()
            + ", with looks at "
            + Words.list(plan.looks().stream().map(l -> digits.count(l.sessions())).toList())
            + " sessions (alpha "
            + Words.list(plan.looks().stream().map(l -> digits.probability(l.alpha())).toList())
            + "); a change of "
            + digits.pointsSize(plan.materialChangePercent())
            + " is material.");
    all.add(
        "Conditions: "
            + String.join("; ", plan.conditions().stream().map(PlanWords::of).toList())
            + ".");
    all.add(
        plan.units().isEmpty()
            ? "Units: any of the model."
            : "Units: " + Words.list(plan.units()) + ".");
    all.add("It stops " + of(plan.stop()) + ".");
    if (!plan.words().isBlank()) all.add(plan.words());
    return all;
  }

  public static String of(Deviation d, Digits digits) {
    String condition = d.condition().map(PlanWords::of).orElse("");
    return switch (d.what()) {
      case CONDITION_NOT_PLANNED ->
          "Not planned, and run in " + digits.sessions(d.count()) + ": " + condition + ".";
      case CONDITION_NOT_RUN -> "Planned, and not run so far: " + condition + ".";
      case UNIT_NOT_PLANNED -> "Unit " + d.name() + " was not planned.";
      case UNIT_NOT_RUN -> "Unit " + d.name() + " was planned, and not run so far.";
      case OTHER_BASELINE -> "It is held against " + d.name() + ", not the release planned.";
      case OTHER_LOOKS -> "The policy's looks were changed since the plan.";
      case OTHER_MATERIAL_CHANGE -> "The material change was changed since the plan.";
      case STOPPED_EARLY ->
          Words.capital(d.name())
              + " was published on "
              + digits.sessions(d.count())
              + ", before the plan was at its end.";
      case VERDICT_UNREAD ->
          "Whether "
              + d.name()
              + " was published before the plan was at its end is not known: its stored record can't be"
              + " read.";
      case MORE_SESSIONS -> digits.counted(d.count(), "session") + " more than planned were run.";
      case PASSES_EXCLUDED -> digits.counted(d.count(), "run") + " left out, each with its reason.";
    };
  }

  /** {@code 0.5 points: 7 sessions}. */
  public static String of(Needed.Sessions n, Digits digits) {
    return n.sessions().isPresent()
        ? digits.sessions(n.sessions().getAsInt())
        : "no number would do: the baseline is too small";
  }
}
