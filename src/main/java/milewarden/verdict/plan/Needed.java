package milewarden.verdict.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import milewarden.statistics.Power;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.LookPlan;
import milewarden.verdict.Policy.Purpose;

/** How much testing a question needs, before it is begun. */
public final class Needed {
  // Multiples of the material change that a tester asks about (common practice, no source).
  private static final double[] SHIFTS = {0.5, 1, 2, 3};

  private Needed() {}

  /**
   * Sessions that a change of this size needs.
   *
   * @param percent size of the true change of the mean error, above 0
   * @param sessions of the candidate, to find it with the policy's power at the last look's alpha;
   *     empty where no number would do, because the baseline is too small
   * @param chances to find it at each look, taken alone, in the order of the looks
   */
  public record Sessions(double percent, OptionalInt sessions, List<Double> chances) {
    public Sessions {
      chances = List.copyOf(chances);
    }
  }

  /**
   * For changes of half the material change to three times it, in ascending order.
   *
   * @param sdPercent between sessions so far, above 0
   * @param baseline its sessions, 2 or more
   * @see "Cohen (1988), Statistical Power Analysis, chapter 2; by the noncentral t distribution"
   */
  public static List<Sessions> sessions(double sdPercent, int baseline, Policy policy) {
    List<Sessions> all = new ArrayList<>();
    for (double multiple : SHIFTS)
      all.add(sessions(multiple * policy.materialChangePercent(), sdPercent, baseline, policy));
    return all;
  }

  /** For one change. */
  public static Sessions sessions(double percent, double sdPercent, int baseline, Policy policy) {
    double effect = percent / sdPercent;
    LookPlan last = policy.looks().get(policy.looks().size() - 1);
    return new Sessions(
        percent,
        Power.sessionsAgainst(effect, baseline, last.alpha(), policy.power()),
        policy.looks().stream()
            .map(l -> Power.of(effect, l.sessions(), baseline, l.alpha()))
            .toList());
  }

  /**
   * Length of course that a display's step needs for a limit to be decided by what it shows.
   *
   * @param purpose code of the purpose
   * @param lengthM of one reading: a pass, or laps run as one
   * @param laps of the course in question that make it up, 1 or more
   */
  public record Course(String purpose, double lengthM, int laps) {}

  /**
   * One per purpose, in the policy's order.
   *
   * @param stepM of the display, above 0
   * @param courseM length of one lap or way, above 0
   */
  public static List<Course> courses(double stepM, double courseM, Policy policy) {
    List<Course> all = new ArrayList<>();
    for (Purpose p : policy.purposes()) {
      double length = stepM / (policy.displayShare() * p.meanLimitPercent() / 100);
      // A last digit of the division must not ask for one more lap.
      int laps = (int) Math.max(1, Math.ceil(length / courseM - 1e-9));
      all.add(new Course(p.code(), length, laps));
    }
    return all;
  }
}
