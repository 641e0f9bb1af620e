package milewarden.accuracy;

import milewarden.accuracy.fingerprint.CountedDistance;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.fingerprint.StepsSource;

/**
 * Lays a pass's recorded distance beside its places, and asks whether it was counted from steps.
 */
final class CountedSteps {
  private CountedSteps() {}

  /**
   * @param from index in the recording of the pass's point 0, or of the fix before it
   * @param sigmaM of a position
   */
  static Fingerprint of(Recording recording, PassSeries pass, int from, double sigmaM) {
    int n = recording.recorded.present() ? Math.max(0, pass.lastFix - pass.firstFix + 1) : 0;
    boolean cadence = recording.track.cadencesPerMin().length > 0;
    double[] second = new double[n];
    double[] recorded = new double[n];
    double[] place = new double[n];
    double[] perMin = new double[cadence ? n : 0];
    double[] step = new double[Math.max(0, n - 1)];
    boolean[] gap = new boolean[step.length];
    boolean[] broken = new boolean[step.length];
    for (int j = 0; j < n; j++) {
      int i = from + pass.firstFix + j;
      int k = pass.firstFix + j;
      second[j] = pass.second[k];
      recorded[j] = recording.recorded.cumulativeM(i);
      place[j] = pass.placeM[k];
      if (cadence) perMin[j] = recording.track.cadencesPerMin()[i];
      if (j == 0) continue;
      step[j - 1] = recording.stepM[i];
      gap[j - 1] = recording.isGap(i);
      broken[j - 1] = recording.paused[i];
    }
    return StepsSource.of(
        new CountedDistance(second, recorded, place, perMin, step, gap, broken), sigmaM);
  }
}
