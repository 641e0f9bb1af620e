package milewarden.matching;

import java.util.Arrays;
import milewarden.course.ReferenceCourse;

/**
 * How well tracks were matched, against their truth.
 *
 * <p>A fix is on the wrong leg or lap where its place is further off than 40 m; with noise of 8 m
 * that is 5 sigma.
 */
public final class MatchScore {
  private static final double WRONG_M = 40;

  private int runs;
  private long fixes;
  private long wrong;
  private int wrongRuns;
  private int unsure;
  private int misplaced;
  private double squares;
  private double noiseSquares;
  private double addedSquares;
  private long squared;
  private double travel;
  private double walked;
  private double travelSquares;
  private final StringBuilder worst = new StringBuilder();

  /** Matches one track and takes the answer in. */
  public void take(KnownTrack known, long seed) {
    runs++;
    if (!recognised(known)) {
      misplaced++;
      worst.append(" seed ").append(seed).append(": not recognised;");
      return;
    }
    CourseMatcher matcher = CourseMatcher.of(known.course());
    Match match = matcher.match(known.track(), Timeline.of(known.track()), known.hint());
    if (match.stretches().isEmpty()) {
      misplaced++;
      worst.append(" seed ").append(seed).append(": no match;");
      return;
    }
    double k = known.course().scale() * known.course().groundFactor();
    double shift = shift(known, match, k);
    int here = 0;
    for (int i = 0; i < known.lowM().length; i++) {
      double place = k * match.placeM()[i] - shift;
      if (!(place >= known.lowM()[i] - WRONG_M && place <= known.highM()[i] + WRONG_M)) here++;
    }
    fixes += known.lowM().length;
    if (!match.directionSure()) {
      unsure++;
      return;
    }
    wrong += here;
    if (here > 0) {
      wrongRuns++;
      worst.append(" seed ").append(seed).append(": ").append(here).append(';');
    }
    errors(known, matcher, match, k, shift);
  }

  private static boolean recognised(KnownTrack known) {
    if (known.among().isEmpty()) return true;
    return CourseIndex.of(known.among())
        .recognise(known.track())
        .fold(c -> c.course().slug().equals(known.course().slug()), a -> false, n -> false);
  }

  /** Which lap is called the first is a matter of naming: whole laps are taken out once. */
  private static double shift(KnownTrack known, Match match, double k) {
    ReferenceCourse course = known.course();
    if (!course.closed()) return 0;
    double[] apart = new double[known.lowM().length];
    for (int i = 0; i < apart.length; i++) apart[i] = k * match.placeM()[i] - known.lowM()[i];
    Arrays.sort(apart);
    return course.horizontalM() * Math.rint(apart[apart.length / 2] / course.horizontalM());
  }

  private void errors(
      KnownTrack known, CourseMatcher matcher, Match match, double k, double shift) {
    double came = 0;
    double went = 0;
    for (int i = 0; i < known.lowM().length; i++) {
      boolean on = known.lowM()[i] == known.highM()[i];
      if (i > 0 && between(known, i - 1) && between(known, i)) {
        came += Math.abs(k * (match.placeM()[i] - match.placeM()[i - 1]));
        went += Math.abs(known.lowM()[i] - known.lowM()[i - 1]);
      }
      if (!on || known.thrown()[i] || Math.abs(match.offsetM()[i]) > WRONG_M) continue;
      double off = k * match.chainageM()[i] - shift - known.lowM()[i];
      double noise = known.noiseAlongM(i, matcher.headingAtRad(known.lowM()[i] / k));
      squares += off * off;
      noiseSquares += noise * noise;
      addedSquares += (off - noise) * (off - noise);
      squared++;
    }
    travel += came;
    walked += went;
    travelSquares += Math.pow(came / went - 1, 2);
  }

  /** On the line, and on an open course between its marks. */
  private static boolean between(KnownTrack known, int i) {
    double at = known.lowM()[i];
    if (at != known.highM()[i]) return false;
    return known.course().closed() || (at >= 0 && at <= known.course().horizontalM());
  }

  public int runs() {
    return runs;
  }

  public long fixes() {
    return fixes;
  }

  public long wrong() {
    return wrong;
  }

  public int wrongRuns() {
    return wrongRuns;
  }

  /** Runs that were said to fit both ways. */
  public int unsureRuns() {
    return unsure;
  }

  /** Runs on another course, or on none. */
  public int misplacedRuns() {
    return misplaced;
  }

  /** Share of all fixes that are on the wrong leg or lap without a word about it. */
  public double wrongShare() {
    return wrong / (double) fixes;
  }

  /** Of the chainage of fixes on the line, metres. */
  public double chainageRmsM() {
    return Math.sqrt(squares / squared);
  }

  /** What of it the fixes bring: how far along the line they lie from where the device was. */
  public double noiseRmsM() {
    return Math.sqrt(noiseSquares / squared);
  }

  /** And what is not theirs: the root mean square of the difference, fix by fix. */
  public double addedRmsM() {
    return Math.sqrt(addedSquares / squared);
  }

  /** The true way of one run between the marks, metres, of those whose direction was said. */
  public double runM() {
    return walked / Math.max(1, runs - unsure - misplaced);
  }

  /**
   * The way along the line, between the marks, over all runs against the true one, as a part of it,
   * less 1.
   */
  public double travelError() {
    return travel / walked - 1;
  }

  /** Root mean square of the same run by run. */
  public double travelRms() {
    return Math.sqrt(travelSquares / Math.max(1, runs - unsure - misplaced));
  }

  /** Seeds that went wrong, and how many fixes of each. */
  public String worst() {
    return worst.toString();
  }
}
