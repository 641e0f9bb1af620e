package milewarden.report.trial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.report.Digits;
import milewarden.report.DueWords;
import milewarden.report.JudgedWords;
import milewarden.report.Status;
import milewarden.verdict.Policy;
import milewarden.verdict.replay.Moves;

/**
 * What would a change move?
 *
 * @param sentence all of it in numbers
 * @param quiet on how much it was tried, and that nothing was written
 * @param models those where something would move, by name
 * @param lost runs that could not be measured any more
 * @param fields of the form for another policy; empty where it was not about the policy
 * @param pasted the policy file as it stands in the form
 * @param course the course file as it stands in the form
 * @param earlier those that were tried before, the newest first
 * @param refusal why nothing was tried; empty text where it was
 */
public record DryRunPage(
    String sentence,
    String quiet,
    List<ModelMoves> models,
    List<String> lost,
    List<Field> fields,
    String pasted,
    String course,
    List<Link> earlier,
    String refusal) {
  public DryRunPage {
    earlier = List.copyOf(earlier);
    models = List.copyOf(models);
    lost = List.copyOf(lost);
    fields = List.copyOf(fields);
  }

  /** One model's moves, a sentence each. */
  public record ModelMoves(String model, List<String> sentences) {
    public ModelMoves {
      sentences = List.copyOf(sentences);
    }
  }

  /** Another dry run. */
  public record Link(String address, String words) {}

  /** A number of the form. */
  public record Field(String name, String label, String value) {}

  /**
   * @param what was tried, to begin a sentence: <i>The new policy</i>
   * @param models that were judged
   * @param runs that were measured anew for it
   * @param messages due items that somebody would be told of
   */
  public static DryRunPage of(
      String what,
      List<Moves> moves,
      int models,
      int runs,
      List<String> lost,
      int messages,
      List<Field> fields,
      Digits digits) {
    return new DryRunPage(
        what + " " + sentence(moves, lost, messages, digits),
        "Tried on "
            + digits.counted(models, "model")
            + (runs > 0 ? ", with " + digits.counted(runs, "run") + " measured anew" : "")
            + ". Nothing was written and nobody was told.",
        moves.stream().map(m -> new ModelMoves(m.model(), sentences(m, digits))).toList(),
        lost,
        fields,
        "",
        "",
        List.of(),
        "");
  }

  /** The same with what was pasted, and with the ones before. */
  public DryRunPage with(String policyFile, String courseFile, List<Link> others) {
    return new DryRunPage(
        sentence, quiet, models, lost, fields, policyFile, courseFile, others, refusal);
  }

  /** While it is under way: how far it is. */
  public static DryRunPage underWay(
      boolean measuring, int done, int of, List<Field> fields, Digits digits) {
    return new DryRunPage(
        of == 0
            ? "Waiting for the dry run before it."
            : (measuring ? "Being measured anew: " : "Being judged: ")
                + digits.count(done)
                + " of "
                + digits.counted(of, measuring ? "run" : "model")
                + ".",
        "It goes on if you leave; this page renews itself, and stays at this address.",
        List.of(),
        List.of(),
        fields,
        "",
        "",
        List.of(),
        "");
  }

  /** The form, before anything is tried or where it can't be. */
  public static DryRunPage form(List<Field> fields, String refusal) {
    return new DryRunPage(
        "What would other rules change?",
        "Try limits, a course or this engine on the whole history before they hold.",
        List.of(),
        List.of(),
        fields,
        "",
        "",
        List.of(),
        refusal);
  }

  /** The fields of the policy's purposes and its material change. */
  public static List<Field> fields(Policy p) {
    List<Field> fields = new ArrayList<>();
    for (Policy.Purpose each : p.purposes()) {
      String name = JudgedWords.purpose(each.code());
      fields.add(
          new Field(
              each.code() + ".mean",
              name + ": limit on the mean error, %",
              plain(each.meanLimitPercent())));
      fields.add(
          new Field(
              each.code() + ".next",
              name + ": limit on the next run, %",
              plain(each.nextRunLimitPercent())));
    }
    fields.add(
        new Field(
            "material", "material change, percentage points", plain(p.materialChangePercent())));
    return fields;
  }

  private static String plain(double x) {
    return java.math.BigDecimal.valueOf(x).stripTrailingZeros().toPlainString();
  }

  private static String sentence(
      List<Moves> moves, List<String> lost, int messages, Digits digits) {
    if (moves.isEmpty() && lost.isEmpty()) return "would change nothing.";
    List<String> parts = new ArrayList<>();
    count(parts, moves.stream().mapToInt(m -> m.decisions().size()).sum(), "decision", digits);
    count(parts, moves.stream().mapToInt(m -> m.figures().size()).sum(), "rounded figure", digits);
    count(parts, moves.stream().mapToInt(m -> m.outcomes().size()).sum(), "outcome", digits);
    count(
        parts,
        (int) moves.stream().filter(m -> m.verdict().isPresent()).count(),
        "state of a verdict",
        digits);
    String changed = parts.isEmpty() ? "would change no figure" : "would change " + list(parts);
    int raised = moves.stream().mapToInt(m -> m.raised().size()).sum();
    int gone = moves.stream().mapToInt(m -> m.gone().size()).sum();
    String due = "";
    if (raised > 0) due += "; " + digits.counted(raised, "item") + " would become due";
    if (messages > 0 && messages == raised)
      due += raised == 1 ? ", and would be told by mail" : ", all of them told by mail";
    else if (messages > 0) due += ", " + digits.count(messages) + " of them told by mail";
    if (gone > 0) due += "; " + digits.counted(gone, "item") + " would be due no longer";
    if (!lost.isEmpty())
      due += "; " + digits.counted(lost.size(), "run") + " could not be measured any more";
    return changed + due + ".";
  }

  private static void count(List<String> parts, int n, String noun, Digits digits) {
    if (n == 0) return;
    if (noun.startsWith("state")) parts.add(digits.counted(n, "verdict's state"));
    else parts.add(digits.counted(n, noun));
  }

  private static String list(List<String> parts) {
    return milewarden.report.Words.list(parts);
  }

  private static List<String> sentences(Moves m, Digits digits) {
    List<String> all = new ArrayList<>();
    m.verdict()
        .ifPresent(
            v ->
                all.add(
                    "Verdict "
                        + v.number()
                        + " on "
                        + v.firmware()
                        + " would be "
                        + JudgedWords.of(v.after()).word()
                        + ", and is "
                        + JudgedWords.of(v.before()).word()
                        + "."));
    for (Moves.DecisionMove d : m.decisions())
      all.add(
          d.firmware()
              + ", "
              + JudgedWords.purpose(d.purpose())
              + ": "
              + instead(d.after().map(JudgedWords::of), d.before().map(JudgedWords::of)));
    for (Moves.FigureMove f : m.figures())
      all.add(
          f.firmware()
              + ": mean error "
              + figure(f.after(), digits)
              + ", where it is "
              + figure(f.before(), digits)
              + ".");
    for (Moves.OutcomeMove o : m.outcomes())
      all.add(
          o.candidate()
              + " against "
              + o.baseline()
              + ": "
              + instead(o.after().map(JudgedWords::of), o.before().map(JudgedWords::of)));
    m.raised().forEach(d -> all.add("Would become due: " + DueWords.title(d, digits) + "."));
    m.gone().forEach(d -> all.add("Would be due no longer: " + DueWords.title(d, digits) + "."));
    return all;
  }

  private static String instead(Optional<Status> after, Optional<Status> before) {
    return after.map(Status::word).orElse("none")
        + ", where it is "
        + before.map(Status::word).orElse("none")
        + ".";
  }

  private static String figure(OptionalDouble percent, Digits digits) {
    return percent.isPresent() ? digits.percent(percent.getAsDouble(), 2) : Digits.NOT_TESTED;
  }
}
