package milewarden.benchmark;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.Predicate;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.fingerprint.Fingerprint.Kind;
import milewarden.accuracy.noise.Bracket;
import milewarden.accuracy.noise.NoiseCheck;
import milewarden.accuracy.noise.OffsetStatistics;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Tracker;
import milewarden.simulator.Walk;

/**
 * How often each fingerprint is recovered within its stated 95 % interval where it was put in, how
 * often it is reported there, and how often it is reported where it is absent. Simulated tracks
 * over three courses, walking and running, at one and two seconds, with noise that lasts and noise
 * that is fresh, a wandering body, a wrist and a shifted map.
 */
public final class FingerprintRates {
  private static final Position HERE = new Position(48.2, -30.1);
  private static final List<ReferenceCourse> COURSES =
      List.of(track(), loop("wide", 25), loop("tight", 10));

  private static final ReferenceCourse STRAIGHT = straight();
  // A map is off by metres, common practice, no source.
  private static final double SHIFT_M = 1.5;

  private FingerprintRates() {}

  public static void main(String[] args) {
    int tracks = args.length > 0 ? Integer.parseInt(args[0]) : 300;
    // The tests use seeds from 1 on, this table others.
    long from = args.length > 1 ? Long.parseLong(args[1]) : 1_000_000;
    System.out.println("fingerprint                 put in  held in interval  reported  false");
    String named = args.length > 2 ? args[2] : "";
    for (Case c : Case.values())
      if (c.name().startsWith(named)) System.out.println(rates(c, tracks, from));
    if ("NOISE".startsWith(named)) System.out.println(noise(tracks, from));
    if ("HABITS".startsWith(named)) HabitRates.print(tracks, from);
  }

  /** What is put in. */
  public enum Case {
    LAG_2(Kind.SMOOTHING_LAG, 2),
    LAG_4(Kind.SMOOTHING_LAG, 4),
    LAG_8(Kind.SMOOTHING_LAG, 8),
    TURN_QUICK(Kind.TURN_OVERSHOOT, Tracker.critical(0.6)),
    TURN_OPTIMAL(Kind.TURN_OVERSHOOT, Tracker.optimal(0.4)),
    TURN_SLOW(Kind.TURN_OVERSHOOT, Tracker.critical(0.75)),
    GRID_5(Kind.COARSE_POSITIONS, 1e-5),
    GRID_6(Kind.COARSE_POSITIONS, 1e-6),
    SNAPPED(Kind.SNAPPED_TO_LINE, 0);

    final Kind kind;
    // NaN where it follows from the walk.
    final double truth;
    final Optional<Tracker> tracker;

    Case(Kind kind, double truth) {
      this.kind = kind;
      this.truth = truth;
      tracker = Optional.empty();
    }

    Case(Kind kind, Tracker tracker) {
      this.kind = kind;
      truth = Double.NaN;
      this.tracker = Optional.of(tracker);
    }

    Receiver in(Receiver r) {
      return switch (kind) {
        case SMOOTHING_LAG -> r.withSmoothing(truth);
        case COARSE_POSITIONS -> r.withDecimals((int) Math.round(-Math.log10(truth)));
        case SNAPPED_TO_LINE -> r.withSnapping();
        case TURN_OVERSHOOT -> r.withTracker(tracker.orElseThrow());
        default -> throw new IllegalStateException(name());
      };
    }
  }

  /** Shares of tracks, 0 to 1. */
  public record Rates(Case of, int tracks, double held, double reported, double falseReports) {
    @Override
    public String toString() {
      return String.format(
          Locale.ROOT,
          "%-26s %7s %9.3f ± %.3f %9.3f %6.3f ± %.3f",
          of,
          of.tracker.isPresent() ? "varies" : String.format(Locale.ROOT, "%.3g", of.truth),
          held,
          error(held),
          reported,
          falseReports,
          error(falseReports));
    }

    /** Standard error of a share, Monte Carlo. */
    double error(double share) {
      return Math.sqrt(share * (1 - share) / tracks);
    }
  }

  /** Rates of one fingerprint over this many seeds. */
  public static Rates rates(Case c, int tracks, long firstSeed) {
    int held = 0;
    int reported = 0;
    int wrong = 0;
    for (long seed = firstSeed; seed < firstSeed + tracks; seed++) {
      Fingerprint in = found(c.kind, seed, c.in(receiver(seed)));
      double truth =
          c.tracker.isPresent() ? RunningOn.meanM(walk(seed), c.tracker.get(), seed) : c.truth;
      if (holds(in, truth)) held++;
      if (in.present()) reported++;
      if (found(c.kind, seed + 500_000, receiver(seed + 500_000)).present()) wrong++;
    }
    double n = tracks;
    return new Rates(c, tracks, held / n, reported / n, wrong / n);
  }

  /**
   * Shares of tracks of plain noise on a straight course whose stated interval holds the standard
   * deviation put in, the mean, the correlation time, and 0 as observed less predicted wander; and
   * how often plain noise is said there, on tracks with four times the noise on a fifth of the
   * course, and on tracks of which one fix in 30 jumps by 15 m.
   */
  public record NoiseRates(
      int tracks,
      double sigma,
      double mean,
      double time,
      double medianSize,
      double p95Size,
      double wander,
      double plain,
      double plainOfPatches,
      double plainOfJumps) {
    @Override
    public String toString() {
      return String.format(
          Locale.ROOT,
          "noise: held sigma %.3f, mean %.3f, correlation time %.3f,%n"
              + "  median size %.3f, 95 %% size %.3f, wander %.3f;%n"
              + "  plain noise said where plain %.3f, where patchy %.3f, with jumps %.3f"
              + " (%d tracks, each ± %.3f at most)",
          sigma,
          mean,
          time,
          medianSize,
          p95Size,
          wander,
          plain,
          plainOfPatches,
          plainOfJumps,
          tracks,
          0.5 / Math.sqrt(tracks));
    }
  }

  /** Rates of the noise model over this many seeds. */
  public static NoiseRates noise(int tracks, long firstSeed) {
    int[] count = new int[9];
    for (long seed = firstSeed; seed < firstSeed + tracks; seed++) {
      Receiver r = receiver(seed);
      PassMeasurement p = straight(seed, r);
      OffsetStatistics o = p.offset();
      OffsetStatistics.Uncertainty u = o.uncertainty().orElseThrow();
      double sigma = Math.hypot(r.sigmaM(), r.whiteSigmaM());
      if (Math.abs(o.robustSigmaM() - sigma) <= u.robustSigmaM()) count[0]++;
      if (Math.abs(o.meanM()) <= u.meanM()) count[1]++;
      if (u.correlationLowS().orElse(0) <= r.correlationTimeS()
          && u.correlationHighS().orElse(Double.POSITIVE_INFINITY) >= r.correlationTimeS())
        count[2]++;
      // Of a normal's size: 0.67449 and 1.95996 standard deviations.
      if (holds(u.medianAbs(), 0.67449 * sigma)) count[7]++;
      if (holds(u.p95Abs(), 1.95996 * sigma)) count[8]++;
      NoiseCheck check = p.noise();
      double off = Math.abs(check.observedM().get(0) - check.predictedM().get(0));
      if (off <= check.uncertaintyM().get(0)) count[3]++;
      if (check.plainNoise()) count[4]++;
      if (straight(seed, r.withStretches(PATCHES)).noise().plainNoise()) count[5]++;
      if (straight(seed, r.withOutliers(1 / 30.0, 15)).noise().plainNoise()) count[6]++;
    }
    double n = tracks;
    return new NoiseRates(
        tracks,
        count[0] / n,
        count[1] / n,
        count[2] / n,
        count[7] / n,
        count[8] / n,
        count[3] / n,
        count[4] / n,
        count[5] / n,
        count[6] / n);
  }

  private static final List<Receiver.Stretch> PATCHES =
      List.of(new Receiver.Stretch(600, 1000, 4), new Receiver.Stretch(2000, 2400, 4));

  private static PassMeasurement straight(long seed, Receiver receiver) {
    boolean runs = new SplittableRandom(seed).nextBoolean();
    Walk walk = Walk.of(STRAIGHT).withGait(runs ? Gait.RUN : Gait.WALK, runs ? 3 : 1.4);
    return Measurer.measure(
            TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track(),
            STRAIGHT,
            MeasureOptions.NONE.withBounds(Bounds.MARKS))
        .passes()
        .get(0);
  }

  private static boolean holds(Optional<Bracket> b, double truth) {
    return b.isPresent()
        && b.get().lowM().orElse(0) <= truth
        && b.get().highM().orElse(Double.POSITIVE_INFINITY) >= truth;
  }

  private static boolean holds(Fingerprint f, double truth) {
    return f.value().isPresent()
        // A millimetre: what a file's decimals leave of a place on the line.
        && f.low().orElse(Double.NEGATIVE_INFINITY)
            <= truth * (1 + 1e-9) + (f.kind() == Kind.SNAPPED_TO_LINE ? 1e-3 : 0)
        && f.high().orElse(Double.POSITIVE_INFINITY) >= truth * (1 - 1e-9);
  }

  private static Fingerprint found(Kind kind, long seed, Receiver receiver) {
    PassMeasurement pass = pass(seed, receiver);
    Predicate<Fingerprint> wanted = f -> f.kind() == kind;
    return pass.fingerprints().stream().filter(wanted).findFirst().orElseThrow();
  }

  /** The only pass of a walk that the seed draws, with this receiver. */
  public static PassMeasurement pass(long seed, Receiver receiver) {
    Walk walk = walk(seed);
    // A shift of the map: an error that all share and that outlasts the walk.
    Sky sky = new Sky(seed, SHIFT_M, 1e7, 1, 0);
    TrackMeasurement m =
        Measurer.measure(
            TrackSimulator.simulate(walk, receiver, sky, seed).track(),
            walk.course(),
            MeasureOptions.NONE.withBounds(Bounds.MARKS));
    if (m.passes().size() != 1) return pass(seed + 100_000, receiver);
    return m.passes().get(0);
  }

  /** A walk that the seed draws. */
  static Walk walk(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    ReferenceCourse course = COURSES.get(random.nextInt(COURSES.size()));
    boolean runs = random.nextBoolean();
    Carriage[] carriages = {Carriage.FIXED, Carriage.SWING_LEFT, Carriage.SWING_RIGHT};
    return Walk.of(course)
        .withGait(runs ? Gait.RUN : Gait.WALK, runs ? 2.5 + 2 * random.nextDouble() : 1.4)
        .withLaps(runs ? 5 : 3)
        .withCarriage(carriages[random.nextInt(3)])
        .withVariation(0.05, 0.3);
  }

  /** A device that the seed draws, with nothing put in. */
  public static Receiver receiver(long seed) {
    SplittableRandom random = new SplittableRandom(seed + 77);
    double sigma = 0.5 + 2.5 * random.nextDouble();
    double lasts = 5 + 35 * random.nextDouble();
    double fresh = 0.3 * random.nextDouble();
    return Receiver.PERFECT
        .withNoise(sigma, lasts, fresh)
        .withInterval(random.nextInt(3) == 0 ? 2 : 1);
  }

  /** Drawn every 100 m: the simulator goes straight in degrees between, off a geodesic of 4 km. */
  private static ReferenceCourse straight() {
    List<double[]> plan = new ArrayList<>();
    for (int i = 0; i <= 40; i++) plan.add(new double[] {50.0 * i, 50 * Math.sqrt(3) * i});
    return InventedCourse.of("straight", "straight", false, InventedCourse.laidOut(HERE, plan));
  }

  /** Straights of 84.39 m and bends of 36.80 m radius: a standard track in lane 1. */
  private static ReferenceCourse track() {
    double r = 36.80;
    double half = 84.39 / 2;
    List<double[]> plan = new ArrayList<>();
    plan.add(new double[] {-half, -r});
    for (int i = 0; i <= 120; i++) {
      double a = -Math.PI / 2 + Math.PI * i / 120;
      plan.add(new double[] {half + r * Math.cos(a), r * Math.sin(a)});
    }
    for (int i = 0; i <= 120; i++) {
      double a = Math.PI / 2 + Math.PI * i / 120;
      plan.add(new double[] {-half + r * Math.cos(a), r * Math.sin(a)});
    }
    return InventedCourse.of("track", "track", true, InventedCourse.laidOut(HERE, plan));
  }

  /** About a kilometre with six turns to the right and two to the left. */
  private static ReferenceCourse loop(String slug, double radiusM) {
    List<double[]> corners =
        List.of(
            new double[] {0, 0},
            new double[] {0, 220},
            new double[] {130, 220},
            new double[] {130, 110},
            new double[] {240, 110},
            new double[] {240, 230},
            new double[] {360, 230},
            new double[] {360, 0});
    return InventedCourse.of(
        slug, slug, true, InventedCourse.rounded(HERE, corners, radiusM, 1.5, true));
  }
}
