package milewarden.report;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import milewarden.verdict.Condition;
import milewarden.verdict.DueItem;
import milewarden.verdict.DueItem.Advice;

/** What to do about a due item, in words; why it is due stands in {@link DueWords}. */
public final class AdviceWords {
  private AdviceWords() {}

  /** What to do next, sentences for a list; at least one. */
  public static List<String> of(DueItem item, Digits digits) {
    Advice advice = item.advice();
    List<String> out = new ArrayList<>();
    if (item.kind() == DueItem.Kind.VERDICT_UPDATE_DUE)
      out.add(
          "Look at the figures, then publish an updated verdict or say why the old one stands.");
    item.facts().smoothing().ifPresent(s -> out.addAll(SmoothingWords.advice(s)));
    int sessions = advice.sessionsNeeded().orElse(-1);
    // One run of an outing: beside what its release needs, another outing asked for would be one
    // too
    // many.
    if (item.cause() == DueItem.Cause.SUSPECT_RUN)
      out.add(
          "Repeat the run"
              + in(advice.conditions())
              + ". It counts among the sessions that the release still needs.");
    else if (sessions > 0)
      out.add("Run " + counted(sessions, digits) + in(advice.conditions()) + ".");
    else if (sessions < 0 && item.kind() == DueItem.Kind.RETEST_DUE)
      out.add("Test it again" + in(advice.conditions()) + ".");
    advice
        .outing()
        .map(AdviceWords::outing)
        .or(() -> advice.next().map(AdviceWords::next))
        .ifPresent(out::add);
    advice.chanceVerdictFlips().ifPresent(p -> out.add(chance(p, digits)));
    if (out.isEmpty()) out.add("Look at the model's page and close the item with a word.");
    return List.copyOf(out);
  }

  private static String counted(int sessions, Digits digits) {
    return digits.counted(sessions, "more session");
  }

  private static String in(List<Condition> conditions) {
    if (conditions.isEmpty()) return "";
    String each =
        conditions.stream().limit(3).map(AdviceWords::condition).collect(Collectors.joining("; "));
    int rest = conditions.size() - 3;
    return ": " + each + (rest > 0 ? "; and " + rest + " more conditions" : "");
  }

  // In brackets: a list of conditions has commas enough.
  private static String condition(Condition c) {
    return Words.of(c.gait()) + " on " + c.course() + " (" + Words.of(c.carriage()) + ")";
  }

  private static String next(DueItem.NextRun next) {
    return "Next: unit "
        + next.unit()
        + ", "
        + condition(next.condition())
        + ", "
        + Words.of(next.direction())
        + ".";
  }

  /** All units of the next session: where, who how, which way first. */
  private static String outing(DueItem.Outing outing) {
    DueItem.NextRun first = outing.runs().get(0);
    if (outing.runs().size() == 1) return next(first);
    Condition c = first.condition();
    return "Next session: "
        + Words.of(c.gait())
        + " on "
        + c.course()
        + ", "
        + Words.of(outing.first())
        + " first, then the other way; "
        + Words.list(
            outing.runs().stream()
                .map(r -> "unit " + r.unit() + " (" + Words.of(r.condition().carriage()) + ")")
                .toList())
        + ".";
  }

  private static String chance(double p, Digits digits) {
    return "The chance that the next look changes the verdict is about "
        + digits.number(100 * p, 0)
        + "\u00a0%.";
  }
}
