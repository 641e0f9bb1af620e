package milewarden.accuracy.fingerprint;

/**
 * What lies along a line as the fixes of a pass see it: by their own feet, which errors along the
 * line move, so that each sees a mean over its neighbourhood. Keeps room for what it works out: one
 * thread, one pass.
 */
final class AsSeen {
  private static final int PARTS = 4;

  private final int half;
  private final double[] one;
  private final double[] other;
  // Of each fix: the step of the line in which it lies, and how far in it.
  private final int[] step;
  private final double[] part;

  /**
   * @param line along which the values lie
   * @param chainageM of the fixes
   * @param sigmaM standard deviation of the errors along the line
   */
  AsSeen(FollowedLine line, double[] chainageM, double sigmaM) {
    // Three running means of w places have the variance (w^2 - 1) / 4.
    double perStep = sigmaM / line.stepM();
    half = (int) Math.rint((Math.sqrt(4 * perStep * perStep + 1) - 1) / 2);
    one = new double[line.size()];
    other = new double[line.size()];
    double[] at = line.stepsTo(chainageM);
    step = new int[at.length];
    part = at;
    for (int j = 0; j < at.length; j++) {
      step[j] = Math.min((int) at[j], line.size() - 2);
      part[j] -= step[j];
    }
  }

  /** The values at each fix. */
  void column(double[] alongLine, double[] out) {
    double[] spread = alongLine;
    if (half > 0) {
      runningMean(alongLine, one);
      runningMean(one, other);
      runningMean(other, one);
      spread = one;
    }
    for (int j = 0; j < out.length; j++) {
      double from = spread[step[j]];
      out[j] = from + part[j] * (spread[step[j] + 1] - from);
    }
  }

  /** In parts side by side: each sum waits for itself, and four of them wait no longer than one. */
  private void runningMean(double[] values, double[] out) {
    int n = values.length;
    double per = 1.0 / (2 * half + 1);
    int length = (n - 2 * half - 1) / PARTS;
    if (length < half) {
      edge(values, out, 0, n, per);
      return;
    }
    // Whole windows lie around these.
    int a = half + 1;
    int b = a + length;
    int c = b + length;
    int d = c + length;
    edge(values, out, 0, a, per);
    double sumA = window(values, a - 1);
    double sumB = window(values, b - 1);
    double sumC = window(values, c - 1);
    double sumD = window(values, d - 1);
    int back = 2 * half + 1;
    for (int i = half + a; i < half + b; i++) {
      sumA += values[i] - values[i - back];
      sumB += values[i + length] - values[i + length - back];
      sumC += values[i + 2 * length] - values[i + 2 * length - back];
      sumD += values[i + 3 * length] - values[i + 3 * length - back];
      out[i - half] = sumA * per;
      out[i - half + length] = sumB * per;
      out[i - half + 2 * length] = sumC * per;
      out[i - half + 3 * length] = sumD * per;
    }
    edge(values, out, d + length, n, per);
  }

  private double window(double[] values, int i) {
    double sum = 0;
    for (int k = Math.max(0, i - half); k <= Math.min(values.length - 1, i + half); k++)
      sum += values[k];
    return sum;
  }

  /** Means from one place up to but not another, where windows may reach beyond the ends. */
  private void edge(double[] values, double[] out, int from, int to, double per) {
    if (from >= to) return;
    double sum = window(values, from);
    out[from] = sum * per;
    for (int i = from + 1; i < to; i++) {
      if (i + half < values.length) sum += values[i + half];
      if (i > half) sum -= values[i - half - 1];
      out[i] = sum * per;
    }
  }
}
