package milewarden.verdict;

import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;

/**
 * Which of the three distances an error was taken from; in the order in which they are preferred.
 */
public enum Source {
  SHOWN,
  RECORDED,
  TRACK;

  /** Why a source was taken. */
  public enum Why {
    /** The display's step is at most a quarter of the limit. */
    DISPLAY_RESOLVES,
    /** The step is coarser than a quarter of the limit; a finer source was there. */
    DISPLAY_TOO_COARSE,
    /** Too few sessions carry a shown distance. */
    NOT_SHOWN,
    /** The step is too coarse, and nothing else was recorded. */
    NOTHING_FINER
  }

  /**
   * The one source of a figure or a comparison, named.
   *
   * @param limitPercent the limit, or the material change, that the display had to resolve
   * @param stepPercent step of the display in percent of the pass, the coarsest that counted; empty
   *     where nothing was shown
   * @param lengthNeededM length of a pass at which the display would resolve the limit; empty where
   *     it does, or where nothing was shown
   * @param lapsNeeded the same as traversals of the pass that had the coarsest step
   */
  public record Choice(
      Source source,
      Why why,
      double limitPercent,
      OptionalDouble stepPercent,
      OptionalDouble lengthNeededM,
      OptionalInt lapsNeeded) {}

  /**
   * Shown where its step is at most the policy's share of the limit, else recorded, else track; a
   * source that too few sessions of any release carry is passed over. Where no source reaches the
   * share, the one that most sessions carry.
   *
   * @param releases the passes of each release that is to be judged by it
   * @param limitPercent a purpose's limit, or the material change
   */
  public static Choice choose(
      List<? extends Collection<PassEvidence>> releases, double limitPercent, Policy policy) {
    double step = 0;
    double stepM = 0;
    double ofPassM = 0;
    for (Collection<PassEvidence> release : releases)
      for (PassEvidence p : release)
        if (p.exclusion().isEmpty() && p.errors().shownAsReadPercent().isPresent()) {
          double percent = 100 * p.displayStepM() / p.referenceM();
          if (percent > step) {
            step = percent;
            stepM = p.displayStepM();
            ofPassM = p.referenceM();
          }
        }
    boolean shown = covered(releases, SHOWN) >= policy.sourceCoverage();
    boolean resolves = step <= policy.displayShare() * limitPercent;
    Source source = SHOWN;
    Why why = Why.DISPLAY_RESOLVES;
    if (!(shown && resolves)) {
      source = finer(releases, policy, shown);
      why =
          source == SHOWN
              ? resolves ? Why.DISPLAY_RESOLVES : Why.NOTHING_FINER
              : shown ? Why.DISPLAY_TOO_COARSE : Why.NOT_SHOWN;
    }
    boolean lacking = step > 0 && !resolves;
    double needed = stepM / (policy.displayShare() * limitPercent / 100);
    return new Choice(
        source,
        why,
        limitPercent,
        step > 0 ? OptionalDouble.of(step) : OptionalDouble.empty(),
        lacking ? OptionalDouble.of(needed) : OptionalDouble.empty(),
        lacking ? OptionalInt.of((int) Math.ceil(needed / ofPassM - 1e-9)) : OptionalInt.empty());
  }

  private static Source finer(
      List<? extends Collection<PassEvidence>> releases, Policy policy, boolean shown) {
    for (Source s : List.of(RECORDED, TRACK))
      if (covered(releases, s) >= policy.sourceCoverage()) return s;
    if (shown) return SHOWN;
    Source best = SHOWN;
    for (Source s : values()) if (covered(releases, s) > covered(releases, best)) best = s;
    return best;
  }

  private static boolean carriedByAll(Collection<PassEvidence> release, Source source) {
    for (PassEvidence p : release)
      if (p.exclusion().isEmpty() && !PassError.has(p, source)) return false;
    return true;
  }

  /** The least share, over the releases, of the sessions that carry the source. */
  private static double covered(List<? extends Collection<PassEvidence>> releases, Source source) {
    double least = 1;
    for (Collection<PassEvidence> release : releases) {
      if (carriedByAll(release, source)) continue;
      Set<String> all = new HashSet<>();
      Set<String> with = new HashSet<>();
      for (PassEvidence p : release) {
        if (p.exclusion().isPresent()) continue;
        all.add(p.session());
        if (PassError.has(p, source)) with.add(p.session());
      }
      if (!all.isEmpty()) least = Math.min(least, with.size() / (double) all.size());
    }
    return least;
  }
}
