package milewarden.report.pass;

import java.util.ArrayList;
import java.util.List;
import milewarden.accuracy.noise.NoiseCheck;
import milewarden.accuracy.noise.OffsetStatistics;
import milewarden.report.Digits;

/** Sentences on the errors of a pass's positions, and on whether they explain its wander. */
public final class NoiseWords {
  private static final List<String> THINNINGS = List.of("every fix", "every 2nd fix", "every 4th");

  private NoiseWords() {}

  /** How large the errors are, how long one lasts, and whether they explain the wander. */
  public static List<String> sentences(OffsetStatistics o, NoiseCheck check, Digits digits) {
    List<String> out = new ArrayList<>();
    out.add(size(o, digits) + lasting(o, digits) + ".");
    if (check.observedM().isEmpty())
      out.add("There are too few fixes to ask whether noise explains the wander.");
    else out.add(wander(check, digits));
    return List.copyOf(out);
  }

  private static String size(OffsetStatistics o, Digits digits) {
    String sigma =
        o.uncertainty()
            .map(u -> digits.groundWithin(o.robustSigmaM(), u.robustSigmaM()))
            .orElse(digits.ground(o.robustSigmaM()));
    return "Across the line the positions scatter with a standard deviation of " + sigma;
  }

  private static String lasting(OffsetStatistics o, Digits digits) {
    if (o.correlationTimeS().isEmpty())
      return o.uncertainty().isPresent() ? ", and no error lasts from fix to fix" : "";
    String time = time(o.correlationTimeS().getAsDouble(), digits);
    return ", and an error lasts about "
        + time
        + o.uncertainty()
            .filter(u -> u.correlationLowS().isPresent() && u.correlationHighS().isPresent())
            .map(
                u ->
                    " ("
                        + time(u.correlationLowS().getAsDouble(), digits)
                        + " to "
                        + time(u.correlationHighS().getAsDouble(), digits)
                        + ")")
            .orElse("");
  }

  /** Whole seconds where there are many: the interval is wide. */
  private static String time(double seconds, Digits digits) {
    return seconds < 10 ? digits.seconds(seconds) : digits.number(seconds, 0) + "\u00a0s";
  }

  private static String wander(NoiseCheck check, Digits digits) {
    String found = digits.ground(Math.max(0, check.observedM().get(0)));
    String predicted = predicted(check, 0, digits);
    if (check.evenness().filter(e -> !e.even()).isPresent()) return uneven(check, found, digits);
    return check.plainNoise()
        ? "Wander makes the track "
            + found
            + " longer; noise of that kind makes it "
            + predicted
            + " longer, and thinning the fixes changes it as noise does: it is plain noise."
        : "Wander makes the track "
            + found
            + " longer, where noise of that kind would make it "
            + predicted
            + " longer: look at the track, noise alone does not explain it.";
  }

  private static String uneven(NoiseCheck check, String found, Digits digits) {
    return "Wander makes the track "
        + found
        + " longer, and the errors are "
        + digits.number(check.evenness().orElseThrow().ratio(), 1)
        + " times as large in one tenth of the pass as in another: look at where, noise that is"
        + " alike everywhere does not explain it.";
  }

  private static String predicted(NoiseCheck check, int i, Digits digits) {
    double p = check.predictedM().get(i);
    return check.uncertaintyM().isEmpty()
        ? digits.ground(p)
        : digits.groundWithin(p, check.uncertaintyM().get(i));
  }

  /**
   * A row for a table of thinnings.
   *
   * @param name which fixes are taken
   * @param found weave and backtrack of them
   * @param predicted what plain noise predicts, with the uncertainty of the difference
   */
  public record Thinned(String name, String found, String predicted) {}

  /** The wander of all fixes, of every 2nd and of every 4th; empty where not known. */
  public static List<Thinned> thinned(NoiseCheck check, Digits digits) {
    List<Thinned> out = new ArrayList<>();
    for (int i = 0; i < Math.min(THINNINGS.size(), check.observedM().size()); i++)
      out.add(
          new Thinned(
              THINNINGS.get(i),
              digits.change(check.observedM().get(i)),
              predicted(check, i, digits)));
    return List.copyOf(out);
  }
}
