package milewarden.report.pass;

import java.util.Optional;
import milewarden.accuracy.display.DisplayRule;
import milewarden.accuracy.display.RuleFound;
import milewarden.device.Rounding;
import milewarden.report.Digits;

/** Sentences about the rule by which a display shows a distance. */
public final class DisplayWords {
  private DisplayWords() {}

  /** What the readings say, in a sentence or two. */
  public static String sentence(double stepM, RuleFound found, Digits digits) {
    String display = "The display with steps of " + digits.ground(stepM);
    String readings = digits.counted(found.readings(), "reading");
    if (found.said().isEmpty())
      return display
          + ": "
          + readings
          + " do not settle whether it rounds or cuts off; the likeliest is that it "
          + of(likeliest(found))
          + ", with a probability of "
          + digits.number(found.highest(), 2)
          + ".";
    return display
        + " "
        + of(found.said().get())
        + ": "
        + readings
        + ", probability "
        + (found.highest() > 0.999 ? "above 0.999" : digits.number(found.highest(), 3))
        + "."
        + chance(found, digits);
  }

  private static String chance(RuleFound found, Digits digits) {
    if (found.said().get() != DisplayRule.CUT_OFF || found.chanceIfRounded() >= 1) return "";
    return " All lie less than a step below the recorded distance, which rounding would do once in "
        + digits.count(Math.round(1 / found.chanceIfRounded()))
        + " by chance.";
  }

  private static DisplayRule likeliest(RuleFound found) {
    return found.probability().entrySet().stream()
        .max(java.util.Map.Entry.comparingByValue())
        .orElseThrow()
        .getKey();
  }

  /** What the display does, after 'it'. */
  public static String of(DisplayRule rule) {
    return switch (rule) {
      case ROUNDED -> "rounds to the nearest step";
      case CUT_OFF -> "cuts off what is below a step";
      case MILES_FIRST -> "rounds to hundredths of a mile first and shows them in its own unit";
      case MILES_FIRST_CUT_OFF ->
          "cuts off at hundredths of a mile first and shows them in its own unit";
      case LATE -> "is renewed late and shows a distance some seconds old";
    };
  }

  /** The word of the field sheet for a rule; empty for one that it has no word for. */
  public static Optional<Rounding> rounding(DisplayRule rule) {
    return switch (rule) {
      case ROUNDED -> Optional.of(Rounding.ROUNDED);
      case CUT_OFF -> Optional.of(Rounding.TRUNCATED);
      case MILES_FIRST, MILES_FIRST_CUT_OFF, LATE -> Optional.empty();
    };
  }

  /** What can be told about recordings whose rule is not known; empty where nothing. */
  public static String proposal(RuleFound found, int unknown, Digits digits) {
    Optional<Rounding> rounding = found.said().flatMap(DisplayWords::rounding);
    if (rounding.isEmpty() || unknown == 0) return "";
    return "On "
        + digits.counted(unknown, "recording")
        + " the rule is not known: say “"
        + rounding.get().code()
        + "”, and their shown distance is known to one step instead of one and a half.";
  }
}
