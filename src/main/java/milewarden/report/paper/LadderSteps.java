package milewarden.report.paper;

import java.util.List;

/**
 * The mean ladder of a release, from the reference on.
 *
 * @param caption source and n
 */
public record LadderSteps(String heading, String caption, List<Step> steps) {
  public LadderSteps {
    steps = List.copyOf(steps);
  }

  /** A step, metres per kilometre of the reference, plus makes longer; not rounded. */
  public record Step(String name, double metresPerKm, String words, String meaning) {}
}
