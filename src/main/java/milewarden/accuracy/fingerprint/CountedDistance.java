package milewarden.accuracy.fingerprint;

/**
 * What a device counted along one pass, fix by fix, beside where it was. Parallel arrays, never
 * written to.
 */
public final class CountedDistance {
  final double[] second;
  final double[] recordedM;
  final double[] placeM;
  final double[] perMin;
  final double[] stepM;
  final boolean[] gap;
  final boolean[] broken;

  /**
   * @param second of each fix, since some instant
   * @param recordedM the device's own cumulative distance at each fix
   * @param placeM smoothed chainage in the direction of travel at each fix
   * @param perMin steps of one foot a minute at each fix, NaN where missing; empty where none
   * @param stepM length of the positions' step to the next fix, one fewer than fixes
   * @param gap true where the step to the next fix leads over a gap, one fewer
   * @param broken true where it leads over a break between segments, one fewer
   */
  public CountedDistance(
      double[] second,
      double[] recordedM,
      double[] placeM,
      double[] perMin,
      double[] stepM,
      boolean[] gap,
      boolean[] broken) {
    int n = second.length;
    int steps = Math.max(0, n - 1);
    if (recordedM.length != n || placeM.length != n || perMin.length != n && perMin.length != 0)
      throw new IllegalArgumentException("arrays of different lengths");
    if (stepM.length != steps || gap.length != steps || broken.length != steps)
      throw new IllegalArgumentException("arrays of different lengths");
    this.second = second;
    this.recordedM = recordedM;
    this.placeM = placeM;
    this.perMin = perMin;
    this.stepM = stepM;
    this.gap = gap;
    this.broken = broken;
  }

  int size() {
    return second.length;
  }

  /** From fix {@code from} to fix {@code to}: what the device counted, metres. */
  double countedM(int from, int to) {
    return recordedM[to] - recordedM[from];
  }

  double advanceM(int from, int to) {
    return placeM[to] - placeM[from];
  }

  double seconds(int from, int to) {
    return second[to] - second[from];
  }

  /** Length of the positions, metres. */
  double positionsM(int from, int to) {
    double sum = 0;
    for (int j = from; j < to; j++) sum += stepM[j];
    return sum;
  }

  /** By how much the steps of the recorded distance differ from those of the positions, metres. */
  double besidePositionsM(int from, int to) {
    double sum = 0;
    for (int j = from; j < to; j++) sum += Math.abs(countedM(j, j + 1) - stepM[j]);
    return sum;
  }

  /** Strides, by the trapezoid rule; NaN where a fix has no cadence. */
  double strides(int from, int to) {
    if (perMin.length == 0) return Double.NaN;
    double sum = 0;
    for (int j = from; j < to; j++)
      sum += (perMin[j] + perMin[j + 1]) / 2 * (second[j + 1] - second[j]) / 60;
    return sum;
  }
}
