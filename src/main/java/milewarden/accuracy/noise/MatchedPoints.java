package milewarden.accuracy.noise;

import java.util.Arrays;

/**
 * The points of one pass against the line, in the direction of travel and in metres on the ground.
 * Parallel arrays, handed out as they are: never write to them.
 */
public final class MatchedPoints {
  private final double[] alongM;
  private final double[] offsetM;
  private final double[] placeM;
  private final double[] second;
  private final boolean[] broken;

  /**
   * @param alongM chainage in the direction of travel
   * @param offsetM right of the direction of travel positive
   * @param placeM smoothed chainage in the direction of travel
   * @param second since some instant; NaN without times
   * @param broken one fewer than points: true where the step to the next point leads over a break
   */
  public MatchedPoints(
      double[] alongM, double[] offsetM, double[] placeM, double[] second, boolean[] broken) {
    int n = alongM.length;
    if (offsetM.length != n
        || placeM.length != n
        || second.length != n
        || broken.length != Math.max(0, n - 1)) throw new IllegalArgumentException("lengths");
    this.alongM = alongM;
    this.offsetM = offsetM;
    this.placeM = placeM;
    this.second = second;
    this.broken = broken;
  }

  public int size() {
    return alongM.length;
  }

  public double[] alongM() {
    return alongM;
  }

  public double[] offsetM() {
    return offsetM;
  }

  public double[] placeM() {
    return placeM;
  }

  public double[] second() {
    return second;
  }

  /** True where any step from point {@code j} to point {@code k} leads over a break. */
  public boolean breaks(int j, int k) {
    for (int i = j; i < k; i++) if (broken[i]) return true;
    return false;
  }

  /** The points from {@code from} up to but not {@code to}. */
  public MatchedPoints part(int from, int to) {
    return new MatchedPoints(
        Arrays.copyOfRange(alongM, from, to),
        Arrays.copyOfRange(offsetM, from, to),
        Arrays.copyOfRange(placeM, from, to),
        Arrays.copyOfRange(second, from, to),
        Arrays.copyOfRange(broken, from, Math.max(from, to - 1)));
  }
}
