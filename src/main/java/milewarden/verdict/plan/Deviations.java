package milewarden.verdict.plan;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.TreeSet;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.CampaignPlan.Planned;
import milewarden.verdict.CampaignPlan.Stop;
import milewarden.verdict.Comparison;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PlanOnRecord.Deviation;
import milewarden.verdict.PlanOnRecord.What;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;

/** What was done otherwise than planned: nothing of it is forbidden, all of it is said. */
public final class Deviations {
  private final CampaignPlan plan;
  private final List<PassEvidence> counted;
  private final List<Deviation> found = new ArrayList<>();

  private Deviations(CampaignPlan plan, List<PassEvidence> counted) {
    this.plan = plan;
    this.counted = counted;
  }

  /**
   * A verdict on the planned firmware, published or about to be.
   *
   * @param sessions that it rests on; empty where its record can't be read
   */
  public record Spoken(int number, OptionalInt sessions, Instant at) {
    public static Spoken of(PublishedVerdict v) {
      return new Spoken(v.number(), OptionalInt.of(v.figures().sessions()), v.publishedAt());
    }
  }

  /**
   * All deviations, in the order of their kinds.
   *
   * @param passes the model's own under the planned firmware; excluded ones too
   * @param comparison with the anchor; empty where there is none yet
   * @param verdicts on the planned firmware, in order
   */
  public static List<Deviation> of(
      CampaignPlan plan,
      Collection<PassEvidence> passes,
      Optional<Comparison> comparison,
      Collection<Spoken> verdicts,
      Policy policy) {
    Deviations d =
        new Deviations(plan, passes.stream().filter(p -> p.exclusion().isEmpty()).toList());
    d.conditions();
    d.units();
    comparison.ifPresent(d::baseline);
    d.rules(policy);
    verdicts.forEach(v -> d.verdict(v, comparison));
    d.sessions();
    int excluded = passes.size() - d.counted.size();
    if (excluded > 0) d.add(What.PASSES_EXCLUDED, "", excluded);
    return List.copyOf(d.found);
  }

  private void add(What what, String name, int count) {
    found.add(new Deviation(what, Optional.empty(), name, count));
  }

  private void conditions() {
    Map<Planned, Set<String>> run = new LinkedHashMap<>();
    for (PassEvidence p : counted)
      run.computeIfAbsent(Planned.of(p.condition()), k -> new LinkedHashSet<>()).add(p.session());
    run.forEach(
        (c, sessions) -> {
          if (!plan.conditions().contains(c))
            found.add(
                new Deviation(What.CONDITION_NOT_PLANNED, Optional.of(c), "", sessions.size()));
        });
    if (run.isEmpty()) return;
    for (Planned c : plan.conditions())
      if (!run.containsKey(c))
        found.add(new Deviation(What.CONDITION_NOT_RUN, Optional.of(c), "", 0));
  }

  private void units() {
    if (plan.units().isEmpty() || counted.isEmpty()) return;
    Set<String> run = new TreeSet<>(counted.stream().map(PassEvidence::unit).toList());
    for (String unit : run) if (!plan.units().contains(unit)) add(What.UNIT_NOT_PLANNED, unit, 0);
    for (String unit : plan.units()) if (!run.contains(unit)) add(What.UNIT_NOT_RUN, unit, 0);
  }

  private void baseline(Comparison c) {
    if (!c.baseline().equals(plan.baseline())) add(What.OTHER_BASELINE, c.baseline(), 0);
  }

  private void rules(Policy policy) {
    if (!policy.looks().equals(plan.looks())) add(What.OTHER_LOOKS, "", 0);
    if (policy.materialChangePercent() != plan.materialChangePercent())
      add(What.OTHER_MATERIAL_CHANGE, "", 0);
  }

  private void verdict(Spoken v, Optional<Comparison> comparison) {
    if (v.sessions().isEmpty()) {
      add(What.VERDICT_UNREAD, "verdict " + v.number(), 0);
      return;
    }
    int sessions = v.sessions().getAsInt();
    if (sessions >= plan.mostSessions()) return;
    boolean settled =
        comparison
            .filter(
                c ->
                    c.looks().stream()
                        .anyMatch(
                            l ->
                                !l.beside()
                                    && l.outcome() != Comparison.Outcome.NOT_SETTLED
                                    && !l.takenAt().isAfter(v.at())))
            .isPresent();
    if (plan.stop() == Stop.WHEN_SETTLED && settled) return;
    add(What.STOPPED_EARLY, "verdict " + v.number(), sessions);
  }

  private void sessions() {
    int run = (int) counted.stream().map(PassEvidence::session).distinct().count();
    if (run > plan.mostSessions()) add(What.MORE_SESSIONS, "", run - plan.mostSessions());
  }
}
