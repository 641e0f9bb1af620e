package milewarden.verdict.headtohead;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import milewarden.device.Carriage;
import milewarden.verdict.Condition;
import milewarden.verdict.Conformity;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Deciding;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.FigureSheet;
import milewarden.verdict.headtohead.HeadToHead.Pair;
import milewarden.verdict.headtohead.HeadToHead.Release;
import milewarden.verdict.headtohead.HeadToHead.Side;

/** Holds releases of several models against each other. */
public final class Beside {
  private Beside() {}

  /**
   * A release with its passes; those of other releases or of controls are left out.
   *
   * @param passes of the model, in any order
   */
  public record Entrant(Release release, List<PassEvidence> passes) {
    public Entrant {
      passes =
          passes.stream()
              .filter(p -> !p.control() && p.model().equals(release.name()))
              .filter(p -> p.firmware().equals(release.firmware()))
              .map(Beside::eitherWrist)
              .toList();
    }

    private Set<Condition> conditions() {
      return passes.stream()
          .filter(p -> p.exclusion().isEmpty())
          .map(PassEvidence::condition)
          .collect(Collectors.toSet());
    }
  }

  /** In the common conditions, by one source for all. */
  public static HeadToHead of(
      List<Entrant> entrants, Policy policy, Optional<UnitVariance> others) {
    Source.Choice source =
        Source.choose(
            entrants.stream().map(Entrant::passes).toList(),
            policy.materialChangePercent(),
            policy);
    List<Evidence> all =
        entrants.stream().map(e -> Evidence.of(source.source(), e.passes())).toList();
    List<Condition> common = common(all);
    List<Evidence> in = all.stream().map(e -> e.in(common)).toList();
    List<Side> sides = new ArrayList<>();
    for (int i = 0; i < in.size(); i++)
      sides.add(side(entrants.get(i).release(), all.get(i), in.get(i), source, policy, others));
    int pairs = entrants.size() * (entrants.size() - 1) / 2;
    List<Pair> held = new ArrayList<>();
    for (int a = 0; a < in.size(); a++)
      for (int b = a + 1; b < in.size(); b++)
        held.add(
            new Pairing(in.get(a), in.get(b), pairs, policy, others)
                .of(entrants.get(a).release(), entrants.get(b).release()));
    return new HeadToHead(source, common, sides, held);
  }

  /**
   * Those that can be held against each other: while they have no condition in common, the one that
   * shares the fewest with the others is left out, the later one of two alike.
   *
   * @return in the same order; all of them where not even two have anything in common
   */
  public static List<Entrant> sharing(List<Entrant> entrants) {
    List<Entrant> left = new ArrayList<>(entrants);
    while (left.size() > 2 && shared(left).isEmpty()) {
      Entrant least = left.get(0);
      for (Entrant e : left) if (sharedBy(e, left) <= sharedBy(least, left)) least = e;
      left.remove(least);
    }
    return shared(left).isEmpty() ? entrants : left;
  }

  private static Set<Condition> shared(List<Entrant> entrants) {
    Set<Condition> shared = new LinkedHashSet<>();
    for (int i = 0; i < entrants.size(); i++)
      if (i == 0) shared.addAll(entrants.get(i).conditions());
      else shared.retainAll(entrants.get(i).conditions());
    return shared;
  }

  private static int sharedBy(Entrant one, List<Entrant> all) {
    int shared = 0;
    for (Entrant other : all) {
      Set<Condition> both = new LinkedHashSet<>(one.conditions());
      both.retainAll(other.conditions());
      shared += both.size();
    }
    // With itself it shares all: the rest is what counts.
    return shared - one.conditions().size();
  }

  private static Side side(
      Release release,
      Evidence all,
      Evidence in,
      Source.Choice source,
      Policy policy,
      Optional<UnitVariance> others) {
    Set<String> here = new LinkedHashSet<>();
    for (SessionFigure s : in.sessions()) here.add(s.session());
    int elsewhere = (int) all.sessions().stream().filter(s -> !here.contains(s.session())).count();
    if (in.isEmpty()) return new Side(release, Optional.empty(), List.of(), List.of(), elsewhere);
    List<Conformity> conformity =
        policy.purposes().stream()
            .map(p -> Deciding.conformity(in, p, source, policy, others))
            .toList();
    return new Side(
        release,
        Optional.of(FigureSheet.of(in, Optional.empty(), policy, others)),
        conformity,
        in.sessions(),
        elsewhere);
  }

  /** In which every one of them has a session. */
  private static List<Condition> common(List<Evidence> all) {
    if (all.isEmpty()) return List.of();
    List<Condition> common = new ArrayList<>(all.get(0).conditions());
    for (Evidence e : all) common.retainAll(e.conditions());
    common.sort(Evidence.BY_CONDITION);
    return common;
  }

  // Two devices are not worn on one wrist; over both directions, or an out-and-back, left and
  // right travel alike, and sessions are balanced for that.
  private static PassEvidence eitherWrist(PassEvidence p) {
    Condition c = p.condition();
    if (c.carriage() != Carriage.SWING_RIGHT) return p;
    Condition wrist =
        new Condition(
            c.course(), c.courseVersion(), c.site(), Carriage.SWING_LEFT, c.gait(), c.settings());
    return new PassEvidence(
        p.resultId(),
        p.session(),
        p.sessionStart(),
        p.date(),
        p.model(),
        p.unit(),
        p.control(),
        p.firmware(),
        wrist,
        p.direction(),
        p.errors(),
        p.referenceM(),
        p.referenceStandardUncertaintyPercent(),
        p.displayStepM(),
        p.exclusion());
  }
}
