package milewarden.verdict.place;

import java.time.Instant;
import java.util.List;
import milewarden.course.Direction;
import milewarden.verdict.Condition;

/**
 * A pass with its excess length by place.
 *
 * @param session key of the outing
 * @param start of the outing
 * @param model of the unit
 * @param control true where the unit's firmware is left alone
 * @param laps over which the excess is summed, 1 or more
 * @param lengthM of the course, one lap
 * @param excessPer10m step length minus advance per 10 m of the course's chainage, metres, summed
 *     over the laps; both directions by the same places
 */
public record PlacedPass(
    String session,
    Instant start,
    String model,
    String unit,
    boolean control,
    String firmware,
    Condition condition,
    Direction direction,
    int laps,
    double lengthM,
    List<Double> excessPer10m) {
  /** Metres of chainage in one bin. */
  public static final double BIN_M = 10;

  public PlacedPass {
    excessPer10m = List.copyOf(excessPer10m);
    if (laps < 1) throw new IllegalArgumentException("laps: " + laps);
    if (!(lengthM > 0)) throw new IllegalArgumentException("lengthM: " + lengthM);
  }

  int bins() {
    return (int) Math.ceil(lengthM / BIN_M);
  }

  /** Excess of one lap in a bin; 0 where the engine kept none. */
  double excessM(int bin) {
    return bin < excessPer10m.size() ? excessPer10m.get(bin) / laps : 0;
  }
}
