package milewarden.verdict;

import java.util.OptionalDouble;
import java.util.OptionalInt;

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
}
