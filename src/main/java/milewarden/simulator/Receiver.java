package milewarden.simulator;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import milewarden.track.DeviceClaim;

/**
 * A device as far as its positions and its distance go. Immutable; start from {@link #PERFECT} and
 * change what matters.
 *
 * <p>Noise is that of the positions as they are recorded, so that an engine that recovers {@code
 * sigmaM} from a file is right: it is added behind the filters.
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
 * @param tracker a filter behind that, which carries a speed along and runs on at turns
 * @param lockS seconds after the start without a position: nothing is recorded or counted
 * @param gaps times without a fix
 * @param autoPause true where recording and counting stop below half a metre per second and a new
 *     segment begins behind it
 * @param decimals of the degrees in the file, 4 to 9
 * @param odometer how it counts its distance
 * @param claim what its files say about it
 * @param smart which fixes it leaves out as saying nothing new; empty where it writes them all
 * @param outliers fixes that jump out and back
 * @param snapped true where every position is moved to the nearest place of the line: what is
 *     beside it is lost, what is along it stays
 * @param cadence true where the file carries the steps of one foot a minute
 */
public record Receiver(
    double intervalS,
    double sigmaM,
    double correlationTimeS,
    double whiteSigmaM,
    List<Stretch> stretches,
    double smoothingS,
    Optional<Tracker> tracker,
    double lockS,
    List<Gap> gaps,
    boolean autoPause,
    int decimals,
    Odometer odometer,
    DeviceClaim claim,
    Optional<Smart> smart,
    Outliers outliers,
    boolean snapped,
    boolean cadence) {

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

  /**
   * 'Smart' recording: of the fixes due at every interval only those are written that come behind a
   * turn, or after a long time.
   *
   * @param longestS seconds after which a fix is written in any case
   * @param turnDeg by how much the way has turned since the last one written, degrees
   */
  public record Smart(double longestS, double turnDeg) {
    public Smart {
      if (!(longestS > 0)) throw new IllegalArgumentException("longest: " + longestS);
      if (!(turnDeg > 0)) throw new IllegalArgumentException("turn: " + turnDeg);
    }
  }

  /**
   * Fixes that jump out and back.
   *
   * @param share of the fixes, each on its own chance, 0 to 1
   * @param sizeM how far, metres, in any direction
   */
  public record Outliers(double share, double sizeM) {
    public static final Outliers NONE = new Outliers(0, 0);

    public Outliers {
      if (!(share >= 0 && share <= 1)) throw new IllegalArgumentException("share: " + share);
      if (!(sizeM >= 0)) throw new IllegalArgumentException("size: " + sizeM);
    }
  }

  /** Every second the true position to nine decimals, and the true distance. */
  public static final Receiver PERFECT =
      new Receiver(
          1,
          0,
          1,
          0,
          List.of(),
          0,
          Optional.empty(),
          0,
          List.of(),
          false,
          9,
          new Odometer(Odometer.Source.SPEED, 1),
          DeviceClaim.NONE,
          Optional.empty(),
          Outliers.NONE,
          false,
          false);

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
    return with(d -> d.intervalS = seconds);
  }

  /** Correlated noise of this size and correlation time, and white noise of that size. */
  public Receiver withNoise(double sigma, double timeS, double white) {
    return with(
        d -> {
          d.sigmaM = sigma;
          d.correlationTimeS = timeS;
          d.whiteSigmaM = white;
        });
  }

  public Receiver withStretches(List<Stretch> to) {
    return with(d -> d.stretches = to);
  }

  public Receiver withSmoothing(double lagS) {
    return with(d -> d.smoothingS = lagS);
  }

  public Receiver withTracker(Tracker to) {
    return with(d -> d.tracker = Optional.of(to));
  }

  public Receiver withLock(double seconds) {
    return with(d -> d.lockS = seconds);
  }

  public Receiver withGaps(List<Gap> to) {
    return with(d -> d.gaps = to);
  }

  public Receiver withAutoPause() {
    return with(d -> d.autoPause = true);
  }

  public Receiver withDecimals(int to) {
    return with(d -> d.decimals = to);
  }

  public Receiver withOdometer(Odometer to) {
    return with(d -> d.odometer = to);
  }

  public Receiver withClaim(DeviceClaim to) {
    return with(d -> d.claim = to);
  }

  public Receiver withSmart(Smart to) {
    return with(d -> d.smart = Optional.of(to));
  }

  public Receiver withOutliers(double share, double sizeM) {
    return with(d -> d.outliers = new Outliers(share, sizeM));
  }

  public Receiver withSnapping() {
    return with(d -> d.snapped = true);
  }

  public Receiver withCadence() {
    return with(d -> d.cadence = true);
  }

  private Receiver with(Consumer<Draft> change) {
    Draft draft = new Draft(this);
    change.accept(draft);
    return draft.receiver();
  }

  /** The components, to be changed one at a time. */
  private static final class Draft {
    double intervalS;
    double sigmaM;
    double correlationTimeS;
    double whiteSigmaM;
    List<Stretch> stretches;
    double smoothingS;
    Optional<Tracker> tracker;
    double lockS;
    List<Gap> gaps;
    boolean autoPause;
    int decimals;
    Odometer odometer;
    DeviceClaim claim;
    Optional<Smart> smart;
    Outliers outliers;
    boolean snapped;
    boolean cadence;

    Draft(Receiver from) {
      intervalS = from.intervalS;
      sigmaM = from.sigmaM;
      correlationTimeS = from.correlationTimeS;
      whiteSigmaM = from.whiteSigmaM;
      stretches = from.stretches;
      smoothingS = from.smoothingS;
      tracker = from.tracker;
      lockS = from.lockS;
      gaps = from.gaps;
      autoPause = from.autoPause;
      decimals = from.decimals;
      odometer = from.odometer;
      claim = from.claim;
      smart = from.smart;
      outliers = from.outliers;
      snapped = from.snapped;
      cadence = from.cadence;
    }

    Receiver receiver() {
      return new Receiver(
          intervalS,
          sigmaM,
          correlationTimeS,
          whiteSigmaM,
          stretches,
          smoothingS,
          tracker,
          lockS,
          gaps,
          autoPause,
          decimals,
          odometer,
          claim,
          smart,
          outliers,
          snapped,
          cadence);
    }
  }
}
