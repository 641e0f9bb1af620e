package milewarden.accuracy.fingerprint;

import java.util.Optional;
import milewarden.accuracy.fingerprint.Fingerprint.Kind;
import milewarden.accuracy.fingerprint.Fingerprint.Presence;

/**
 * Whether a device counts its distance from the wearer's steps, and what percent of it.
 *
 * <p>Three witnesses, each of which may be silent. While the wearer stands, neither positions nor
 * speed grow: what is counted there are steps. In a gap a device that counts by speed or bridges by
 * positions grows in the proportion of the rest of the pass; one that falls back on steps by
 * another. And where the file carries the cadence, a distance from steps is proportional to it,
 * while the way itself grows with its square: {@link CadenceShare}.
 *
 * <p>Not told: a fall-back in gaps whose step length happens to be right.
 */
public final class StepsSource {
  // ENGINE.md section 6: a matched speed below this is standing, metres per second.
  private static final double STANDING_MPS = 0.3;
  // No source: a smoothed place comes to rest and starts some seconds late.
  private static final double REST_S = 6;
  private static final double SHORTEST_STAND_S = 8;
  // No source: a walker who goes on is faster than standing for longer than this.
  private static final double TREMBLE_S = 4;
  // No source: what a speed that trembles about 0 may add, metres per second and at least metres.
  private static final double TREMBLE_MPS = 0.1;
  private static final double TREMBLE_M = 2;
  // Positions are bridged where the growth equals the chord to this share and this many metres.
  private static final double BRIDGED_SHARE = 0.01;
  private static final double BRIDGED_M = 0.3;
  // No source: step by step alike to this share; by chance a sum may be alike, its steps are not.
  private static final double LIKE_POSITIONS = 0.2;
  // Below this share of the way the distance stood still.
  private static final double STOOD_STILL = 0.2;
  // No source: the scatter of a short pass is known to a quarter, and it shows too little of errors
  // that last; three of it keep false reports below one in twenty.
  private static final double SURE = 3;

  private final CountedDistance counted;
  private final double sigmaM;
  private int witnesses;
  private double standsM;
  private double gapsM;
  private double gapsWayM;
  private double chordsM;
  private double restM;
  private double restWayM;
  private double restS;
  private double standsDoubtM;
  private int rest;
  private int gaps;

  private StepsSource(CountedDistance counted, double sigmaM) {
    this.counted = counted;
    this.sigmaM = sigmaM;
  }

  /**
   * The percent of the recorded distance that was counted from steps.
   *
   * @param sigmaM standard deviation of a position along the way, metres
   */
  public static Fingerprint of(CountedDistance counted, double sigmaM) {
    return new StepsSource(counted, sigmaM).found();
  }

  private Fingerprint found() {
    int last = counted.size() - 1;
    double allM = last > 0 ? counted.countedM(0, last) : 0;
    if (!(allM > 0) || Double.isNaN(counted.seconds(0, last)))
      return Fingerprint.unsettled(Kind.COUNTED_FROM_STEPS, 0);
    stands();
    sums();
    boolean standing = standsM > TREMBLE_M;
    Verdict inGaps = inGaps();
    Optional<CadenceShare.Share> share = CadenceShare.of(counted);
    if (share.isPresent()) witnesses += share.get().windows();
    boolean byCadence = share.isPresent() && share.get().low() > 0.5;
    boolean notByCadence = share.isPresent() && share.get().high() < 0.5;
    if (!standing && inGaps != Verdict.STEPS && !byCadence) {
      boolean absent = notByCadence || inGaps == Verdict.NO_STEPS;
      return absent
          ? Fingerprint.of(Kind.COUNTED_FROM_STEPS, Presence.ABSENT, 0, 0, Double.NaN, witnesses)
          : Fingerprint.unsettled(Kind.COUNTED_FROM_STEPS, witnesses);
    }
    double sureM = (standing ? standsM : 0) + (inGaps == Verdict.STEPS ? gapsM : 0);
    double shareOfRest = byCadence ? share.get().share() : 0;
    double low = byCadence ? share.get().low() : 0;
    double high = byCadence ? share.get().high() : 0;
    double fromM = sureM - doubtM();
    double toM = sureM + doubtM();
    return Fingerprint.of(
        Kind.COUNTED_FROM_STEPS,
        Presence.PRESENT,
        percent(sureM, shareOfRest, allM),
        percent(fromM, low, allM),
        percent(toM, high, allM),
        witnesses);
  }

  private static double percent(double sureM, double shareOfRest, double allM) {
    double percent = 100 * (sureM + shareOfRest * (allM - sureM)) / allM;
    return Math.max(0, Math.min(100, percent));
  }

  /** What the ends of stands and gaps may hide: a second of the way at each end of a gap. */
  private double doubtM() {
    double mps = restWayM / Math.max(1, restS);
    return 2 * gaps * Math.max(0.5, mps) + standsDoubtM;
  }

  /** Sums what grew inside of stands; a few seconds of trembling do not end one. */
  private void stands() {
    int from = -1;
    int to = -1;
    for (int j = 0; j + 1 < counted.size(); j++) {
      boolean stands = stands(j);
      boolean over = from >= 0 && !stands && counted.seconds(to, j + 1) > TREMBLE_S;
      if (over || from >= 0 && (counted.gap[j] || counted.broken[j])) {
        stand(from, to);
        from = -1;
      }
      if (!stands) continue;
      if (from < 0) from = j;
      to = j + 1;
    }
    if (from >= 0) stand(from, to);
  }

  private boolean stands(int j) {
    return !counted.gap[j]
        && !counted.broken[j]
        && Math.abs(counted.advanceM(j, j + 1)) < STANDING_MPS * counted.seconds(j, j + 1);
  }

  private void stand(int from, int to) {
    int a = from;
    int b = to;
    while (a < b && counted.seconds(from, a) < REST_S) a++;
    while (b > a && counted.seconds(b, to) < REST_S) b--;
    double s = counted.seconds(a, b);
    if (!(s >= SHORTEST_STAND_S)) return;
    witnesses++;
    double grown = counted.countedM(a, b);
    if (counted.besidePositionsM(a, b) < BRIDGED_M + LIKE_POSITIONS * counted.positionsM(a, b))
      return;
    if (grown > TREMBLE_MPS * s) {
      // Its inside is taken for the whole; where it began and ended is known to some seconds.
      standsM += grown / s * counted.seconds(from, to);
      standsDoubtM += grown / s * REST_S;
    }
  }

  private void sums() {
    for (int j = 0; j + 1 < counted.size(); j++) {
      if (counted.broken[j]) continue;
      if (counted.gap[j]) {
        gaps++;
        gapsM += counted.countedM(j, j + 1);
        gapsWayM += counted.advanceM(j, j + 1);
        chordsM += counted.stepM[j];
      } else {
        restM += counted.countedM(j, j + 1);
        restWayM += counted.advanceM(j, j + 1);
        restS += counted.seconds(j, j + 1);
        rest++;
      }
    }
    // The step over a gap is longer than the gap by one interval, which was counted as usual.
    if (rest == 0 || !(restS > 0)) return;
    double usualM = gaps * restM / rest;
    gapsM -= usualM;
    chordsM -= usualM;
    gapsWayM -= gaps * restWayM / rest;
  }

  private enum Verdict {
    STEPS,
    NO_STEPS,
    SILENT
  }

  private Verdict inGaps() {
    if (gaps == 0 || !(gapsWayM > 0) || !(restWayM > 0)) return Verdict.SILENT;
    witnesses += gaps;
    if (gapsM < STOOD_STILL * gapsWayM) return Verdict.NO_STEPS;
    if (Math.abs(gapsM - chordsM) < BRIDGED_M * gaps + BRIDGED_SHARE * chordsM)
      return Verdict.SILENT;
    // Two ends of each gap, and the proportion itself over the whole of the rest.
    double proportion = (restM - standsM) / restWayM;
    double u = sigmaM * Math.sqrt(2.0 * gaps + 2 * Math.pow(gapsWayM / restWayM, 2));
    double expected = proportion * gapsWayM;
    return Math.abs(gapsM - expected) > SURE * u ? Verdict.STEPS : Verdict.SILENT;
  }
}
