package milewarden.accuracy;

import java.util.OptionalDouble;
import milewarden.matching.PassEnd;
import milewarden.track.Track;

/** The device's own cumulative distance, made whole: no missing value, never falling. */
final class RecordedDistance {
  // A counter that has counted more than this before the first fix was running already.
  private static final double RUNNING_M = 50;

  private final double[] cumulativeM;
  private final OptionalDouble totalM;
  private final double beforeM;
  private final boolean present;
  private int resets;

  RecordedDistance(Track track) {
    double[] given = track.distancesM();
    cumulativeM = new double[given.length];
    boolean any = false;
    double shift = 0;
    double last = Double.NaN;
    int lastAt = -1;
    for (int i = 0; i < given.length; i++) {
      if (Double.isNaN(given[i])) continue;
      double d = given[i] + shift;
      if (d < last) {
        // A counter that begins again, at a lap or a pause: it goes on from where it was.
        resets++;
        shift = last - (given[i] > RUNNING_M ? given[i] : 0);
        d = given[i] + shift;
      }
      for (int j = lastAt + 1; j < i; j++)
        cumulativeM[j] = lastAt < 0 ? d : last + (d - last) * (j - lastAt) / (double) (i - lastAt);
      cumulativeM[i] = d;
      last = d;
      lastAt = i;
      any = true;
    }
    for (int j = lastAt + 1; any && j < given.length; j++) cumulativeM[j] = last;
    beforeM = any && cumulativeM[0] > RUNNING_M ? cumulativeM[0] : 0;
    if (track.claimedTotalM().isPresent()) totalM = track.claimedTotalM();
    else totalM = any ? OptionalDouble.of(last - beforeM) : OptionalDouble.empty();
    present = any;
  }

  /** True where a fix carries a distance. */
  boolean present() {
    return present;
  }

  /** Made whole: what was counted up to the fix, metres. */
  double cumulativeM(int fix) {
    return cumulativeM[fix];
  }

  /** How often the counter fell and was taken to go on. */
  int resets() {
    return resets;
  }

  /** The device's total for the whole recording. */
  OptionalDouble totalM() {
    return totalM;
  }

  /**
   * What the device counted between two ends; a recording that is one pass counts in full, also
   * what came before its first fix.
   */
  OptionalDouble betweenM(PassEnd from, PassEnd to, int fixes) {
    boolean begins = !from.isGate() && from.fix() == 0;
    boolean ends = !to.isGate() && to.fix() == fixes - 1;
    if (begins && ends) return totalM;
    if (!present) return OptionalDouble.empty();
    double low = begins ? beforeM : at(from);
    return OptionalDouble.of(at(to) - low);
  }

  private double at(PassEnd end) {
    double d = cumulativeM[end.fix()];
    return end.fraction() == 0 ? d : d + end.fraction() * (cumulativeM[end.fix() + 1] - d);
  }
}
