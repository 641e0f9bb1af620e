package milewarden.simulator;

import java.util.List;
import milewarden.track.DeviceClaim;

/**
 * A device as far as its positions and its distance go. Immutable; start from {@link #PERFECT} and
 * change what matters.
 *
 * <p>Noise is that of the positions as they are recorded, so that an engine that recovers {@code
 * sigmaM} from a file is right: it is added behind the smoothing filter.
 *
 * @param intervalS seconds between fixes: whole tenths, 0.1 or more
 * @param sigmaM standard deviation per axis of the correlated noise, metres: a first-order
 *     Gauss-Markov process, autocovariance sigma^2 exp(-lag / T) (Gelb 1974, Applied Optimal
 *     Estimation, section 3.8; from memory)
 * @param correlationTimeS T of that process, seconds, above 0
 * @param whiteSigmaM standard deviation per axis of the noise that is new at every fix, metres
 * @param stretches where on the course both noises are larger or smaller (multipath)
 * @param smoothingS lag T of a first-order low-pass filter on the positions, seconds; it shrinks a
 *     bend of radius R at speed v by 1 / sqrt(1 + (vT/R)^2) and shows every place late; 0 for none
 * @param lockS seconds after the start without a position: nothing is recorded or counted
 * @param gaps times without a fix
 * @param autoPause true where recording and counting stop below half a metre per second and a new
 *     segment begins behind it
 * @param decimals of the degrees in the file, 4 to 9
 * @param odometer how it counts its distance
 * @param claim what its files say about it
 */
public record Receiver(
    double intervalS,
    double sigmaM,
    double correlationTimeS,
    double whiteSigmaM,
    List<Stretch> stretches,
    double smoothingS,
    double lockS,
    List<Gap> gaps,
    boolean autoPause,
    int decimals,
    Odometer odometer,
    DeviceClaim claim) {

  /**
   * A part of the course where the noise is {@code factor} times as large.
   *
   * @param fromM chainage along the course within one lap, metres
   */
  public record Stretch(double fromM, double toM, double factor) {}

  /**
   * A time without a fix.
   *
   * @param fromS seconds after the start
   * @param newSegment true where the file says so by a new segment
   */
  public record Gap(double fromS, double lengthS, boolean newSegment) {}

  /** Every second the true position to nine decimals, and the true distance. */
  public static final Receiver PERFECT =
      new Receiver(
          1,
          0,
          1,
          0,
          List.of(),
          0,
          0,
          List.of(),
          false,
          9,
          new Odometer(Odometer.Source.SPEED, 1),
          DeviceClaim.NONE);

  public Receiver {
    stretches = List.copyOf(stretches);
    gaps = List.copyOf(gaps);
    double tenths = intervalS * 10;
    if (!(tenths >= 1) || Math.abs(tenths - Math.rint(tenths)) > 1e-9)
      throw new IllegalArgumentException("interval: " + intervalS);
    if (!(sigmaM >= 0) || !(whiteSigmaM >= 0)) throw new IllegalArgumentException("sigma");
    if (!(correlationTimeS > 0)) throw new IllegalArgumentException("time: " + correlationTimeS);
    if (!(smoothingS >= 0)) throw new IllegalArgumentException("smoothing: " + smoothingS);
    if (!(lockS >= 0)) throw new IllegalArgumentException("lock: " + lockS);
    if (decimals < 4 || decimals > 9) throw new IllegalArgumentException("decimals: " + decimals);
  }

  public Receiver withInterval(double seconds) {
    return new Receiver(
        seconds,
        sigmaM,
        correlationTimeS,
        whiteSigmaM,
        stretches,
        smoothingS,
        lockS,
        gaps,
        autoPause,
        decimals,
        odometer,
        claim);
  }

  /** Correlated noise of this size and correlation time, and white noise of that size. */
  public Receiver withNoise(double sigma, double timeS, double white) {
    return new Receiver(
        intervalS,
        sigma,
        timeS,
        white,
        stretches,
        smoothingS,
        lockS,
        gaps,
        autoPause,
        decimals,
        odometer,
        claim);
  }

  public Receiver withStretches(List<Stretch> to) {
    return new Receiver(
        intervalS,
        sigmaM,
        correlationTimeS,
        whiteSigmaM,
        to,
        smoothingS,
        lockS,
        gaps,
        autoPause,
        decimals,
        odometer,
        claim);
  }

  public Receiver withSmoothing(double lagS) {
    return new Receiver(
        intervalS,
        sigmaM,
        correlationTimeS,
        whiteSigmaM,
        stretches,
        lagS,
        lockS,
        gaps,
        autoPause,
        decimals,
        odometer,
        claim);
  }

  public Receiver withLock(double seconds) {
    return new Receiver(
        intervalS,
        sigmaM,
        correlationTimeS,
        whiteSigmaM,
        stretches,
        smoothingS,
        seconds,
        gaps,
        autoPause,
        decimals,
        odometer,
        claim);
  }

  public Receiver withGaps(List<Gap> to) {
    return new Receiver(
        intervalS,
        sigmaM,
        correlationTimeS,
        whiteSigmaM,
        stretches,
        smoothingS,
        lockS,
        to,
        autoPause,
        decimals,
        odometer,
        claim);
  }

  public Receiver withAutoPause() {
    return new Receiver(
        intervalS,
        sigmaM,
        correlationTimeS,
        whiteSigmaM,
        stretches,
        smoothingS,
        lockS,
        gaps,
        true,
        decimals,
        odometer,
        claim);
  }

  public Receiver withDecimals(int to) {
    return new Receiver(
        intervalS,
        sigmaM,
        correlationTimeS,
        whiteSigmaM,
        stretches,
        smoothingS,
        lockS,
        gaps,
        autoPause,
        to,
        odometer,
        claim);
  }

  public Receiver withOdometer(Odometer to) {
    return new Receiver(
        intervalS,
        sigmaM,
        correlationTimeS,
        whiteSigmaM,
        stretches,
        smoothingS,
        lockS,
        gaps,
        autoPause,
        decimals,
        to,
        claim);
  }

  public Receiver withClaim(DeviceClaim to) {
    return new Receiver(
        intervalS,
        sigmaM,
        correlationTimeS,
        whiteSigmaM,
        stretches,
        smoothingS,
        lockS,
        gaps,
        autoPause,
        decimals,
        odometer,
        to);
  }
}
