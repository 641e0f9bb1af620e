package milewarden.matching;

import java.util.SplittableRandom;
import milewarden.track.Track;

/**
 * Which fixes of a track are looked at where all would cost too much: one of each stretch of equal
 * length, drawn with a fixed seed. Every n-th would see a runner who takes n seconds for a lap at
 * one place alone.
 */
final class Sampled {
  // Twice as many as it takes for a share to be right to a few percent: two that follow one another
  // may lie two stretches apart.
  private static final int LEAST = 400;
  private static final long SEED = 1_852;

  private Sampled() {}

  /** Indices of fixes, ascending: all where there are few, else 400 to 800 of them. */
  static int[] of(Track track) {
    int n = track.size();
    int stretch = Math.max(1, n / LEAST);
    int[] at = new int[(n + stretch - 1) / stretch];
    SplittableRandom random = new SplittableRandom(SEED);
    for (int k = 0; k < at.length; k++) {
      int from = k * stretch;
      at[k] = from + random.nextInt(Math.min(stretch, n - from));
    }
    return at;
  }
}
