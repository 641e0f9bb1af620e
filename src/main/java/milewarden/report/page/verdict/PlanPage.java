package milewarden.report.page.verdict;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.PlanWords;
import milewarden.report.page.Links;
import milewarden.report.page.Option;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.CampaignPlan.Planned;
import milewarden.verdict.PlanOnRecord;
import milewarden.verdict.Policy;
import milewarden.verdict.plan.Needed;

/**
 * How much testing does the next release need, and what was promised?
 *
 * @param needed sessions by size of change; empty where no spread is known yet
 * @param courses lengths by purpose; empty where no display was read
 * @param plans in force, newest first
 * @param entered what stands in the form
 * @param refusal why nothing was planned; empty text where nothing was refused
 */
public record PlanPage(
    String model,
    String modelLink,
    String action,
    String sentence,
    List<String> looks,
    List<NeededRow> needed,
    String neededCaption,
    List<CourseRow> courses,
    String coursesCaption,
    List<PlanPart> plans,
    String baseline,
    List<Option> conditions,
    List<Option> units,
    List<Option> stops,
    Entered entered,
    String refusal) {
  public PlanPage {
    looks = List.copyOf(looks);
    needed = List.copyOf(needed);
    courses = List.copyOf(courses);
    plans = List.copyOf(plans);
    conditions = List.copyOf(conditions);
    units = List.copyOf(units);
    stops = List.copyOf(stops);
  }

  /**
   * What a tester has entered; a refused plan loses none of it.
   *
   * @param conditions codes of those that are ticked
   * @param units those that are ticked
   * @param stop code of the choice; empty text for the first
   */
  public record Entered(
      String firmware,
      String by,
      String words,
      String stop,
      List<String> conditions,
      List<String> units) {
    public Entered {
      conditions = List.copyOf(conditions);
      units = List.copyOf(units);
    }
  }

  /** A size of change with what it needs; one chance per look. */
  public record NeededRow(String change, String sessions, List<String> chances) {
    public NeededRow {
      chances = List.copyOf(chances);
    }
  }

  /** A purpose with the length that the display's step needs. */
  public record CourseRow(String purpose, String course, String length, String laps) {}

  /** A plan with what became of it. */
  public record PlanPart(
      String title, String status, List<String> says, List<String> deviations, String earlier) {
    public PlanPart {
      says = List.copyOf(says);
      deviations = List.copyOf(deviations);
    }
  }

  /** What the page is made of; see the records of planning. */
  public record Known(
      Optional<String> baseline,
      OptionalDouble sdPercent,
      int sessions,
      List<Planned> conditions,
      List<String> units,
      OptionalDouble stepM,
      Map<String, Double> courses) {}

  public static PlanPage of(
      long modelId,
      String model,
      Known known,
      List<PlanPart> plans,
      Optional<Entered> entered,
      String refusal,
      Policy policy,
      Digits digits) {
    List<NeededRow> needed = needed(known, policy, digits);
    List<Option> conditions = new ArrayList<>();
    for (int i = 0; i < known.conditions().size(); i++)
      conditions.add(new Option(String.valueOf(i), PlanWords.of(known.conditions().get(i))));
    return new PlanPage(
        model,
        Links.model(modelId),
        Links.plan(modelId),
        sentence(known, policy, digits),
        policy.looks().stream().map(l -> "look at " + l.sessions()).toList(),
        needed,
        "By the noncentral t distribution from a spread of "
            + (known.sdPercent().isPresent()
                ? digits.number(known.sdPercent().getAsDouble(), 2) + "\u00a0%"
                : Digits.UNKNOWN)
            + " between "
            + digits.sessions(known.sessions())
            + " of "
            + known.baseline().orElse("no release")
            + ", power "
            + digits.number(100 * policy.power(), 0)
            + "\u00a0%; the chance at each look is of that look alone.",
        courses(known, policy, digits),
        "A display decides a limit when its step is at most "
            + digits.number(100 * policy.displayShare(), 0)
            + "\u00a0% of it; on shorter courses the recorded distance or the track does.",
        plans,
        known.baseline().orElse(""),
        conditions,
        known.units().stream().map(u -> new Option(u, u)).toList(),
        java.util.Arrays.stream(CampaignPlan.Stop.values())
            .map(s -> new Option(s.name(), PlanWords.of(s)))
            .toList(),
        entered.orElseGet(
            () ->
                new Entered(
                    "", "", "", "", conditions.stream().map(Option::code).toList(), known.units())),
        refusal);
  }

  private static String sentence(Known known, Policy policy, Digits digits) {
    if (known.baseline().isEmpty())
      return "Nothing can be planned yet: no release of it has a session to hold another against.";
    if (known.sdPercent().isEmpty() || known.sessions() < 2)
      return "Two sessions of " + known.baseline().get() + " are needed to know its spread.";
    Needed.Sessions n =
        Needed.sessions(
            policy.materialChangePercent(),
            known.sdPercent().getAsDouble(),
            known.sessions(),
            policy);
    String change = "A change of " + digits.pointsSize(n.percent());
    for (int i = 0; i < policy.looks().size(); i++)
      if (n.chances().get(i) >= policy.power())
        return change
            + " would be found at the look at "
            + digits.sessions(policy.looks().get(i).sessions())
            + ", chance "
            + digits.number(100 * n.chances().get(i), 0)
            + "\u00a0%.";
    return n.sessions().isPresent()
        ? change + " needs " + digits.sessions(n.sessions().getAsInt()) + ", more than are planned."
        : change + " can't be found against so small a baseline: run it more often first.";
  }

  private static List<NeededRow> needed(Known known, Policy policy, Digits digits) {
    if (!(known.sdPercent().orElse(0) > 0) || known.sessions() < 2) return List.of();
    return Needed.sessions(known.sdPercent().getAsDouble(), known.sessions(), policy).stream()
        .map(
            n ->
                new NeededRow(
                    digits.pointsSize(n.percent()),
                    PlanWords.of(n, digits),
                    n.chances().stream().map(p -> digits.number(100 * p, 0) + "\u00a0%").toList()))
        .toList();
  }

  private static List<CourseRow> courses(Known known, Policy policy, Digits digits) {
    List<CourseRow> rows = new ArrayList<>();
    if (known.stepM().isEmpty()) return rows;
    known
        .courses()
        .forEach(
            (slug, length) -> {
              for (Needed.Course c : Needed.courses(known.stepM().getAsDouble(), length, policy))
                rows.add(
                    new CourseRow(
                        JudgedWords.purpose(c.purpose()),
                        slug,
                        digits.distance(c.lengthM()),
                        digits.counted(c.laps(), "lap")));
            });
    return rows;
  }

  /** A plan on the page. */
  public static PlanPart part(PlanOnRecord now, List<CampaignPlan> earlier, Digits digits) {
    CampaignPlan plan = now.plan();
    return new PlanPart(
        "Plan for " + plan.firmware(),
        PlanWords.status(now, digits),
        PlanWords.of(plan, digits),
        now.deviations().stream().map(d -> PlanWords.of(d, digits)).toList(),
        earlier.isEmpty()
            ? ""
            : "It replaced "
                + digits.counted(earlier.size(), "earlier plan")
                + ", the last by "
                + earlier.get(earlier.size() - 1).by()
                + " on "
                + digits.moment(earlier.get(earlier.size() - 1).at())
                + ".");
  }
}
