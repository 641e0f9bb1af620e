package milewarden.accuracy.display;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.statistics.Distributions;
import milewarden.units.LengthUnit;

/**
 * Which rule a display follows, by the likelihood of its readings given the device's own distances.
 *
 * <p>Given the recorded distance d and its error of standard deviation s, a rule shows the number r
 * with the probability that d plus error lies where the rule shows r. The error is not known: it is
 * averaged over a few sizes, the same for all readings. A small share of readings may be misread.
 */
public final class DisplayDetective {
  // Of the step: a file's last digit up to a fix that comes a second before the reading. No source.
  private static final double[] ERRORS = {0.01, 0.05, 0.15};
  // No source: one reading in fifty is misread, anywhere within five steps.
  private static final double MISREAD = 0.02;
  private static final double MISREAD_AS = 0.1;
  // No source: seconds between two renewals of a late display, and how finely its age is averaged.
  private static final double[] REFRESH_S = {2, 5, 10};
  private static final int AGES = 20;
  // DOMAIN.md section 3 asks for seven readings; a reading that only one rule explains needs fewer.
  private static final int FEWEST = 4;
  private static final double SURE = 0.99;
  private static final double MILE_STEP_M = LengthUnit.MILE.metres() / 100;

  private final List<ShownAndRecorded> readings;

  private DisplayDetective(List<ShownAndRecorded> readings) {
    this.readings = List.copyOf(readings);
  }

  /** What these readings of one kind of display say; nothing settled where they are few. */
  public static RuleFound of(List<ShownAndRecorded> readings) {
    return new DisplayDetective(readings).found();
  }

  private RuleFound found() {
    Map<DisplayRule, Double> logs = new EnumMap<>(DisplayRule.class);
    double highest = Double.NEGATIVE_INFINITY;
    for (DisplayRule rule : DisplayRule.values()) {
      if (!possible(rule)) continue;
      double log = Math.log(prior(rule)) + logLikelihood(rule);
      logs.put(rule, log);
      highest = Math.max(highest, log);
    }
    double sum = 0;
    for (double log : logs.values()) sum += Math.exp(log - highest);
    Map<DisplayRule, Double> probability = new EnumMap<>(DisplayRule.class);
    Optional<DisplayRule> said = Optional.empty();
    for (Map.Entry<DisplayRule, Double> e : logs.entrySet()) {
      double p = Math.exp(e.getValue() - highest) / sum;
      probability.put(e.getKey(), p);
      if (p >= SURE && readings.size() >= FEWEST) said = Optional.of(e.getKey());
    }
    int inside = (int) readings.stream().filter(DisplayDetective::insideCutOff).count();
    double chance = inside == readings.size() ? Math.pow(2, -readings.size()) : 1;
    return new RuleFound(said, probability, readings.size(), inside, chance);
  }

  private static boolean insideCutOff(ShownAndRecorded r) {
    return r.excessSteps() >= 0 && r.excessSteps() < 1;
  }

  /** A display in miles does not keep miles first. */
  private boolean possible(DisplayRule rule) {
    if (rule != DisplayRule.MILES_FIRST && rule != DisplayRule.MILES_FIRST_CUT_OFF) return true;
    return readings.stream().noneMatch(DisplayDetective::inMiles);
  }

  private static boolean inMiles(ShownAndRecorded r) {
    double steps = LengthUnit.MILE.metres() / r.stepM();
    return Math.abs(steps - Math.rint(steps)) < 1e-6;
  }

  // No source: most displays simply round or cut off; the others need more to be believed.
  private static double prior(DisplayRule rule) {
    return switch (rule) {
      case ROUNDED, CUT_OFF -> 0.4;
      case MILES_FIRST, MILES_FIRST_CUT_OFF -> 0.05;
      case LATE -> 0.1;
    };
  }

  /** The mean over the ways in which a rule can be followed, the same for all readings. */
  private double logLikelihood(DisplayRule rule) {
    List<Way> ways = ways(rule);
    double[] logs = new double[ways.size()];
    double highest = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < logs.length; i++) {
      for (ShownAndRecorded r : readings) logs[i] += Math.log(mixed(rule, r, ways.get(i)));
      highest = Math.max(highest, logs[i]);
    }
    double sum = 0;
    for (double log : logs) sum += Math.exp(log - highest);
    return highest + Math.log(sum / logs.length);
  }

  /**
   * What a rule leaves open.
   *
   * @param error of the recorded distance, in steps
   * @param refreshS of a late display
   * @param up steps by which it rounds up: 0.5 to the nearest, 0 to the one below
   */
  private record Way(double error, double refreshS, double up) {}

  private static List<Way> ways(DisplayRule rule) {
    List<Way> ways = new ArrayList<>();
    for (double error : ERRORS) {
      if (rule == DisplayRule.LATE)
        for (double refresh : REFRESH_S)
          for (double up : new double[] {0, 0.5}) ways.add(new Way(error, refresh, up));
      else ways.add(new Way(error, 0, 0));
    }
    return ways;
  }

  private static double mixed(DisplayRule rule, ShownAndRecorded r, Way way) {
    return (1 - MISREAD) * probability(rule, r, way) + MISREAD * MISREAD_AS;
  }

  private static double probability(DisplayRule rule, ShownAndRecorded r, Way way) {
    double s = way.error() * r.stepM();
    return switch (rule) {
      case ROUNDED -> within(r, r.recordedM(), s, 0.5);
      case CUT_OFF -> within(r, r.recordedM(), s, 0);
      case MILES_FIRST -> milesFirst(r, s, 0.5);
      case MILES_FIRST_CUT_OFF -> milesFirst(r, s, 0);
      case LATE -> late(r, s, way);
    };
  }

  /** That {@code d} with its error is brought to the number read. */
  private static double within(ShownAndRecorded r, double d, double s, double up) {
    double low = r.shownM() - up * r.stepM();
    return within(d, s, low, low + r.stepM());
  }

  private static double within(double d, double s, double low, double high) {
    return Distributions.normalCdf((high - d) / s) - Distributions.normalCdf((low - d) / s);
  }

  /**
   * Sums over the hundredths of a mile that the display's own rule brings to the number read.
   *
   * @param up 0.5 where both rules round, 0 where both cut off
   */
  private static double milesFirst(ShownAndRecorded r, double s, double up) {
    double q = r.stepM();
    long first = (long) Math.floor((r.shownM() - up * q) / MILE_STEP_M) - 1;
    double sum = 0;
    for (long k = Math.max(0, first); k * MILE_STEP_M < r.shownM() + 2 * q; k++) {
      // Steps of a decimal unit are no binary numbers: a billionth keeps 0.99999 from being 0.99.
      double shown = Math.floor(k * MILE_STEP_M / q + up + 1e-9) * q;
      if (Math.abs(shown - r.shownM()) > q / 2) continue;
      sum += within(r.recordedM(), s, (k - up) * MILE_STEP_M, (k + 1 - up) * MILE_STEP_M);
    }
    return sum;
  }

  private static double late(ShownAndRecorded r, double s, Way way) {
    double sum = 0;
    for (int i = 0; i < AGES; i++) {
      double oldM = r.speedMps() * way.refreshS() * (i + 0.5) / AGES;
      sum += within(r, r.recordedM() - oldM, s, way.up());
    }
    return sum / AGES;
  }
}
