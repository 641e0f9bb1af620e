package milewarden.verdict;

/**
 * The lag of a smoothing filter as one pass shows it in its bends, seconds.
 *
 * @param seconds the best estimate, 0 or more
 * @param lowS lower end of its 95 % interval, 0 or more
 * @param highS upper end
 */
public record SmoothingLag(double seconds, double lowS, double highS) {
  public SmoothingLag {
    if (!(0 <= lowS && lowS <= seconds && seconds <= highS))
      throw new IllegalArgumentException("lag: " + lowS + " " + seconds + " " + highS);
  }
}
