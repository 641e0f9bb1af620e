package milewarden.accuracy;

import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.units.LengthRange;

/** The sums over a pass from which its ladder is made; ENGINE section 6, symbol by symbol. */
final class LadderSums {
  /** C: s_last - s_first in the direction of travel, less what lies in breaks. */
  double advance;

  /** Sum of abs(ds). */
  double both;

  /** Sum of hypot(ds, dn). */
  double path;

  /** Minus the sum of mean(n_i, n_i+1) * turn * ds / hypot(ds, dn). */
  double bend;

  /** S, on the ground. */
  double track;

  /** Chainage passed in breaks between segments. */
  double lost;

  int breaks;

  LadderSums(PassSeries pass) {
    for (int j = 0; j + 1 < pass.points; j++) {
      double ds = pass.alongM[j + 1] - pass.alongM[j];
      if (pass.broken[j]) {
        // The jump is no part of the track: neither its length nor its way along the course.
        lost += ds;
        breaks++;
        continue;
      }
      double dn = pass.offsetM[j + 1] - pass.offsetM[j];
      double hypot = Math.sqrt(ds * ds + dn * dn);
      advance += ds;
      both += Math.abs(ds);
      path += hypot;
      track += pass.stepM[j];
      double turn = pass.headingRad[j + 1] - pass.headingRad[j];
      if (turn != 0 && hypot > 0)
        bend -= (pass.offsetM[j] + pass.offsetM[j + 1]) / 2 * turn * ds / hypot;
    }
  }

  /**
   * @param k of the course
   * @param r R, reference along the slope
   * @param h H, horizontal reference
   */
  Ladder ladder(
      double k, double r, double h, OptionalDouble recorded, Optional<LengthRange> shown) {
    double below = recorded.isPresent() ? recorded.getAsDouble() : track;
    return new Ladder(
        h - r,
        k * advance - h,
        advance - k * advance,
        both - advance,
        path - both,
        bend,
        track - path - bend,
        recorded.isPresent()
            ? OptionalDouble.of(recorded.getAsDouble() - track)
            : OptionalDouble.empty(),
        shown.map(s -> new LengthRange(s.lowM() - below, s.highM() - below)));
  }
}
