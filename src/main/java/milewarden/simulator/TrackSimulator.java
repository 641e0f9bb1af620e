package milewarden.simulator;

import java.util.Optional;
import java.util.random.RandomGenerator;
import milewarden.device.Carriage;

/**
 * Makes the recording of one device on one walk, with the truth beside every fix.
 *
 * <p>Deterministic: the same walk, receiver, sky and seed give the same track to the last bit. The
 * sky's seed rules what is common to all devices of an outing (the body's motion and the shared
 * error), the other seed what is the device's own.
 *
 * <p>The device sits on the body's line, or on a wrist {@value #WRIST_M} m beside it that swings
 * fore and aft. Its positions are: the true place, through the filters, plus correlated and white
 * noise per axis, rounded to the file's decimals.
 */
public final class TrackSimulator {
  /** A wrist's distance from the body's line, metres: DOMAIN.md section 2, carriage. */
  public static final double WRIST_M = 0.35;

  /** Half of the wrist's way fore and aft, metres. No source. */
  public static final double SWING_M = 0.12;

  // No source: how long a body keeps to one side of the line.
  private static final double WANDER_TIME_S = 20;
  // A usual rule of auto-pause, no source: below this speed, metres per second.
  private static final double PAUSE_MPS = 0.5;
  // Over how many entries of the motion the device sees that speed: one second.
  private static final int PAUSE_STEPS = 10;

  private final Walk walk;
  private final Receiver receiver;
  private final Motion motion;
  private final CoursePath path;
  private final GaussMarkov wander;
  private final Noise noise;
  private final Smoothing smoothing;
  private final AlphaBeta tracker;
  private final Recorder recorder;
  private final Stride stride;
  private final RandomGenerator outliers;
  private final Skipping skipping;
  private final double[] recordedAt = new double[2];
  private final double[] place = new double[2];
  private double swing;
  private double chainage;
  private double rightM;
  private boolean broken = true;

  private TrackSimulator(Walk walk, Receiver receiver, Sky sky, long seed) {
    this.walk = walk;
    this.receiver = receiver;
    motion = new Motion(walk, sky.seed());
    path = new CoursePath(walk.course());
    wander =
        new GaussMarkov(Seeds.random(sky.seed(), "wander"), walk.wanderSigmaM(), WANDER_TIME_S);
    noise = new Noise(receiver, sky, seed);
    smoothing = new Smoothing(receiver.smoothingS(), Motion.STEP_S);
    tracker = new AlphaBeta(receiver.tracker());
    recorder = new Recorder(receiver, sky.scalePercent());
    stride = new Stride(walk);
    outliers = Seeds.random(seed, "outliers");
    skipping = new Skipping(receiver);
  }

  /** The recording of one device on one walk. */
  public static SimulatedTrack simulate(Walk walk, Receiver receiver, Sky sky, long seed) {
    return new TrackSimulator(walk, receiver, sky, seed).run();
  }

  private SimulatedTrack run() {
    long every = Math.round(receiver.intervalS() / Motion.STEP_S);
    Counter counter = new Counter(receiver.odometer(), stride);
    for (int i = 0; i < motion.size(); i++) {
      double t = i * Motion.STEP_S;
      boolean due = i % every == 0 || i == motion.size() - 1;
      boolean locked = t >= receiver.lockS();
      boolean paused = pausedAt(i);
      Optional<Receiver.Gap> gap = gapAt(t);
      if (!paused && i > 0) counter.add(goneM(i), Motion.STEP_S, locked, gap.isPresent());
      if (due || smoothing.active() || tracker.takes(i)) {
        move(i, t);
        if (due) record(i, t, locked && !paused, gap, counter.sumM());
      }
      wander.advance(Motion.STEP_S);
    }
    return recorder.finish(walk.referenceM());
  }

  /** What is gone since the entry before, metres: a detour is longer than the line beside it. */
  private double goneM(int i) {
    double ahead = motion.wayM(i) - motion.wayM(i - 1);
    if (walk.detours().isEmpty()) return ahead;
    return Math.hypot(ahead, detourM(i) - detourM(i - 1));
  }

  private double detourM(int i) {
    return walk.detourM(motion.travelledM(motion.wayM(i)));
  }

  private Optional<Receiver.Gap> gapAt(double t) {
    for (Receiver.Gap gap : receiver.gaps())
      if (t >= gap.fromS() && t < gap.fromS() + gap.lengthS()) return Optional.of(gap);
    return Optional.empty();
  }

  /** Puts body and device where they are at entry {@code i}. */
  private void move(int i, double t) {
    double way = motion.wayM(i);
    boolean forward = motion.forward(way);
    swing = swing(t, i);
    chainage = motion.chainageM(way) + (forward ? swing : -swing);
    rightM = wander.value() + side() + detourM(i);
    path.place(chainage, forward ? rightM : -rightM, place);
    smoothing.push(place[0], place[1]);
    tracker.push(i, smoothing.first(), smoothing.second());
  }

  private void record(
      int i, double t, boolean counts, Optional<Receiver.Gap> gap, double countedM) {
    noise.advanceTo(t, path.withinLap(chainage));
    if (!counts || gap.isPresent()) {
      broken |= !counts || gap.get().newSegment();
      return;
    }
    // The last is written in any case: there the tester pressed the button.
    if (skipping.skips(t, place, broken || i == motion.size() - 1)) return;
    boolean outlier = outliers.nextDouble() < receiver.outliers().share();
    double turn = outlier ? 2 * Math.PI * outliers.nextDouble() : 0;
    double jump = outlier ? receiver.outliers().sizeM() : 0;
    double north = noise.northM() + jump * Math.cos(turn);
    double east = noise.eastM() + jump * Math.sin(turn);
    recordedAt[0] = tracker.first() + north / LocalMetre.perDegreeNorth(place[0]);
    recordedAt[1] = tracker.second() + east / LocalMetre.perDegreeEast(place[0]);
    if (receiver.snapped()) path.snap(chainage, recordedAt);
    long time = walk.startedAt().toEpochMilli() + Math.round(1000 * t);
    double hertz = stride.hertzAt(motion.speedMps(i));
    recorder.fix(time, recordedAt[0], recordedAt[1], countedM, hertz, broken);
    recorder.truth(truth(i, time, outlier));
    broken = false;
  }

  private TruthColumns.Row truth(int i, long time, boolean outlier) {
    double way = motion.wayM(i);
    return new TruthColumns.Row(
        motion.travelledM(way) + swing,
        chainage,
        rightM,
        place[0],
        place[1],
        time,
        motion.lap(way),
        motion.speedMps(i) == 0,
        detourM(i) != 0,
        outlier);
  }

  private boolean pausedAt(int i) {
    if (!receiver.autoPause()) return false;
    int from = Math.max(0, i - PAUSE_STEPS);
    int to = from + PAUSE_STEPS;
    if (to >= motion.size()) return false;
    double seconds = PAUSE_STEPS * Motion.STEP_S;
    return (motion.wayM(to) - motion.wayM(from)) / seconds < PAUSE_MPS;
  }

  private double side() {
    if (walk.carriage() == Carriage.SWING_LEFT) return -WRIST_M;
    return walk.carriage() == Carriage.SWING_RIGHT ? WRIST_M : 0;
  }

  private double swing(double t, int i) {
    boolean swings =
        walk.carriage() == Carriage.SWING_LEFT || walk.carriage() == Carriage.SWING_RIGHT;
    boolean moves = i + 1 < motion.size() && motion.wayM(i + 1) > motion.wayM(i);
    if (!swings || !moves) return 0;
    return SWING_M * Math.sin(2 * Math.PI * stride.usualHz() * t);
  }
}
