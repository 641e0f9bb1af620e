package milewarden.verdict;

import java.util.List;
import java.util.Optional;
import milewarden.verdict.Comparison.Outcome;

/**
 * How the smoothing of a release's positions stands against that of the release before, from what
 * the bends of common conditions show. It says nothing of the distance, and decides nothing of it.
 *
 * @param candidate the later release's version
 * @param baseline the version of the release before
 * @param candidateSessions those of the last look, the first in order of start
 * @param baselineSessions all of them
 * @param candidateLagS seconds by which its positions run late in bends, mean of the sessions. One
 *     pass never shows less than 0, so that without a filter the mean is above 0, by more where
 *     positions scatter more
 * @param changeS candidate minus baseline, conditions held alike
 * @param lowS lower end of its 95 % interval, by the spread between sessions, and by how much too
 *     much may be shown where no filter is seen
 * @param highS upper end
 * @param p two-sided
 * @param alpha what {@code p} was held against
 * @param changed true where the lag is called another one
 * @param distance outcome of the comparison of the two releases' distances; empty where there is
 *     none
 * @param evidence the candidate's results, ascending
 */
public record SmoothingChange(
    String candidate,
    String baseline,
    int candidateSessions,
    int baselineSessions,
    double candidateLagS,
    double baselineLagS,
    double changeS,
    double lowS,
    double highS,
    double p,
    double alpha,
    boolean changed,
    Optional<Outcome> distance,
    List<Long> evidence) {
  public SmoothingChange {
    evidence = List.copyOf(evidence);
  }

  /** True where the later release smooths more. */
  public boolean more() {
    return changeS > 0;
  }

  /** The same beside what was found of the distance. */
  public SmoothingChange beside(Optional<Outcome> found) {
    return new SmoothingChange(
        candidate,
        baseline,
        candidateSessions,
        baselineSessions,
        candidateLagS,
        baselineLagS,
        changeS,
        lowS,
        highS,
        p,
        alpha,
        changed,
        found,
        evidence);
  }
}
