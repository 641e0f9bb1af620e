package milewarden.simulator;

/**
 * What all devices of one outing share: the sky and the day.
 *
 * @param seed devices with the same seed and the same start see the same common error
 * @param commonSigmaM standard deviation per axis of the position error that all share, metres
 * @param correlationTimeS of that error, seconds, above 0
 * @param noiseFactor what each device's own position noise is multiplied with that day
 * @param scalePercent how much longer every device's own distance is that day
 */
public record Sky(
    long seed,
    double commonSigmaM,
    double correlationTimeS,
    double noiseFactor,
    double scalePercent) {
  /** A day that adds nothing. */
  public static final Sky CLEAR = new Sky(0, 0, 1, 1, 0);

  public Sky {
    if (!(commonSigmaM >= 0)) throw new IllegalArgumentException("sigma: " + commonSigmaM);
    if (!(correlationTimeS > 0)) throw new IllegalArgumentException("time: " + correlationTimeS);
    if (!(noiseFactor >= 0)) throw new IllegalArgumentException("factor: " + noiseFactor);
  }
}
