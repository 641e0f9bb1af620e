package milewarden.verdict.replay;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.Conformity;
import milewarden.verdict.Conformity.Decision;
import milewarden.verdict.DueItem;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.ModelJudgement.VerdictNow;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.VerdictState;

/**
 * What differs between two judgements of one model at one moment.
 *
 * @param figures whose rounded value moves, by release
 * @param decisions on a purpose, by release
 * @param outcomes of comparisons
 * @param raised causes that only the second judgement finds
 * @param gone causes that only the first found
 * @param verdict the newest published verdict's state, where it moves
 */
public record Moves(
    String model,
    List<FigureMove> figures,
    List<DecisionMove> decisions,
    List<OutcomeMove> outcomes,
    List<DueItem> raised,
    List<DueItem> gone,
    Optional<VerdictMove> verdict) {
  public Moves {
    figures = List.copyOf(figures);
    decisions = List.copyOf(decisions);
    outcomes = List.copyOf(outcomes);
    raised = List.copyOf(raised);
    gone = List.copyOf(gone);
  }

  /** A release's pooled mean error in percent; empty where it has none. */
  public record FigureMove(String firmware, OptionalDouble before, OptionalDouble after) {}

  /** A decision on a purpose; empty where there is none. */
  public record DecisionMove(
      String firmware, String purpose, Optional<Decision> before, Optional<Decision> after) {}

  /** The outcome of a comparison; empty where it is not compared. */
  public record OutcomeMove(
      String candidate,
      String baseline,
      Against against,
      Optional<Outcome> before,
      Optional<Outcome> after) {}

  /** The state of the newest published verdict. */
  public record VerdictMove(int number, String firmware, VerdictState before, VerdictState after) {}

  /**
   * @param stepPercent a figure moves when it differs after rounding to this step
   */
  public static Moves between(ModelJudgement before, ModelJudgement after, double stepPercent) {
    return new Moves(
        after.model(),
        figures(before, after, stepPercent),
        decisions(before, after),
        outcomes(before, after),
        only(after.due(), before.due()),
        only(before.due(), after.due()),
        verdict(before.verdict(), after.verdict()));
  }

  /** True where nothing moves. */
  public boolean none() {
    return figures.isEmpty()
        && decisions.isEmpty()
        && outcomes.isEmpty()
        && raised.isEmpty()
        && gone.isEmpty()
        && verdict.isEmpty();
  }

  private static List<FigureMove> figures(
      ModelJudgement before, ModelJudgement after, double step) {
    List<FigureMove> moves = new ArrayList<>();
    for (String firmware : firmwares(before, after)) {
      OptionalDouble was = mean(before, firmware);
      OptionalDouble is = mean(after, firmware);
      boolean same =
          was.isPresent() == is.isPresent()
              && (was.isEmpty()
                  || Math.round(was.getAsDouble() / step) == Math.round(is.getAsDouble() / step));
      if (!same) moves.add(new FigureMove(firmware, was, is));
    }
    return moves;
  }

  private static List<String> firmwares(ModelJudgement before, ModelJudgement after) {
    Map<String, Boolean> all = new LinkedHashMap<>();
    for (ModelJudgement j : List.of(before, after))
      for (ReleaseJudgement r : j.releases()) all.put(r.release().version(), true);
    return List.copyOf(all.keySet());
  }

  private static OptionalDouble mean(ModelJudgement j, String firmware) {
    Optional<ReleaseFigures> pooled = j.release(firmware).flatMap(ReleaseJudgement::pooled);
    return pooled.isPresent()
        ? OptionalDouble.of(pooled.get().meanPercent())
        : OptionalDouble.empty();
  }

  private static List<DecisionMove> decisions(ModelJudgement before, ModelJudgement after) {
    List<DecisionMove> moves = new ArrayList<>();
    for (String firmware : firmwares(before, after)) {
      Map<String, Decision> was = decisions(before, firmware);
      Map<String, Decision> is = decisions(after, firmware);
      Map<String, Boolean> purposes = new LinkedHashMap<>();
      was.keySet().forEach(p -> purposes.put(p, true));
      is.keySet().forEach(p -> purposes.put(p, true));
      for (String purpose : purposes.keySet()) {
        Optional<Decision> one = Optional.ofNullable(was.get(purpose));
        Optional<Decision> other = Optional.ofNullable(is.get(purpose));
        if (!one.equals(other)) moves.add(new DecisionMove(firmware, purpose, one, other));
      }
    }
    return moves;
  }

  private static Map<String, Decision> decisions(ModelJudgement j, String firmware) {
    Map<String, Decision> all = new LinkedHashMap<>();
    for (Conformity c : j.release(firmware).map(ReleaseJudgement::conformity).orElse(List.of()))
      all.put(c.purpose().code(), c.decision());
    return all;
  }

  private static List<OutcomeMove> outcomes(ModelJudgement before, ModelJudgement after) {
    record Key(String candidate, String baseline, Against against) {}
    Map<Key, Outcome> was = new LinkedHashMap<>();
    Map<Key, Outcome> is = new LinkedHashMap<>();
    for (Comparison c : before.comparisons())
      was.put(new Key(c.candidate(), c.baseline(), c.against()), c.outcome());
    for (Comparison c : after.comparisons())
      is.put(new Key(c.candidate(), c.baseline(), c.against()), c.outcome());
    Map<Key, Boolean> keys = new LinkedHashMap<>();
    was.keySet().forEach(k -> keys.put(k, true));
    is.keySet().forEach(k -> keys.put(k, true));
    List<OutcomeMove> moves = new ArrayList<>();
    for (Key k : keys.keySet()) {
      Optional<Outcome> one = Optional.ofNullable(was.get(k));
      Optional<Outcome> other = Optional.ofNullable(is.get(k));
      if (!one.equals(other))
        moves.add(new OutcomeMove(k.candidate(), k.baseline(), k.against(), one, other));
    }
    return moves;
  }

  private static List<DueItem> only(List<DueItem> these, List<DueItem> others) {
    Set<String> keys = others.stream().map(DueItem::key).collect(Collectors.toSet());
    return these.stream().filter(d -> !keys.contains(d.key())).toList();
  }

  private static Optional<VerdictMove> verdict(
      Optional<VerdictNow> before, Optional<VerdictNow> after) {
    if (before.isEmpty() || after.isEmpty()) return Optional.empty();
    VerdictNow is = after.get();
    if (before.get().state() == is.state()) return Optional.empty();
    return Optional.of(
        new VerdictMove(is.number(), is.firmware(), before.get().state(), is.state()));
  }
}
