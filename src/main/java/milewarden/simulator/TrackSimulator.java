package milewarden.simulator;

import milewarden.device.Carriage;
import milewarden.device.Gait;

/**
 * Makes the recording of one device on one walk, with the truth beside every fix.
 *
 * <p>Deterministic: the same walk, receiver, sky and seed give the same track to the last bit. The
 * sky's seed rules what is common to all devices of an outing (the body's motion and the shared
 * error), the other seed what is the device's own.
 *
 * <p>The device sits on the body's line, or on a wrist {@value #WRIST_M} m beside it that swings
 * fore and aft. Its positions are: the true place, through the smoothing filter, plus correlated
 * and white noise per axis, rounded to the file's decimals.
 */
public final class TrackSimulator {
  /** A wrist's distance from the body's line, metres: DOMAIN.md section 2, carriage. */
  public static final double WRIST_M = 0.35;

  // No source: half of the wrist's way fore and aft, metres, and strides per second.
  private static final double SWING_M = 0.12;
  private static final double WALK_STRIDES_HZ = 0.95;
  private static final double RUN_STRIDES_HZ = 1.4;
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
  private final Recorder recorder;
  private final double[] place = new double[2];
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
    recorder = new Recorder(receiver, sky.scalePercent());
  }

  /** The recording of one device on one walk. */
  public static SimulatedTrack simulate(Walk walk, Receiver receiver, Sky sky, long seed) {
    return new TrackSimulator(walk, receiver, sky, seed).run();
  }

  private SimulatedTrack run() {
    long every = Math.round(receiver.intervalS() / Motion.STEP_S);
    double counted = 0;
    for (int i = 0; i < motion.size(); i++) {
      double t = i * Motion.STEP_S;
      boolean due = i % every == 0 || i == motion.size() - 1;
      boolean counts = t >= receiver.lockS() && !pausedAt(i);
      if (counts && i > 0) counted += motion.wayM(i) - motion.wayM(i - 1);
      if (due || smoothing.active()) {
        step(i, t, due, counts, counted);
      }
      wander.advance(Motion.STEP_S);
    }
    return recorder.finish(walk.referenceM());
  }

  private void step(int i, double t, boolean due, boolean counts, double counted) {
    double way = motion.wayM(i);
    boolean forward = motion.forward(way);
    double swing = swing(t, i);
    double chainage = motion.chainageM(way) + (forward ? swing : -swing);
    double rightM = wander.value() + side();
    path.place(chainage, forward ? rightM : -rightM, place);
    smoothing.push(place[0], place[1]);
    if (!due) return;
    noise.advanceTo(t, path.withinLap(chainage));
    if (!counts) {
      broken = true;
      return;
    }
    for (Receiver.Gap gap : receiver.gaps())
      if (t >= gap.fromS() && t < gap.fromS() + gap.lengthS()) {
        broken |= gap.newSegment();
        return;
      }
    double lat = smoothing.first() + noise.northM() / LocalMetre.perDegreeNorth(place[0]);
    double lon = smoothing.second() + noise.eastM() / LocalMetre.perDegreeEast(place[0]);
    long time = walk.startedAt().toEpochMilli() + Math.round(1000 * t);
    recorder.fix(time, lat, lon, counted, broken);
    recorder.truth(motion.travelledM(way) + swing, chainage, rightM, place);
    broken = false;
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
    double hertz = walk.gait() == Gait.RUN ? RUN_STRIDES_HZ : WALK_STRIDES_HZ;
    return SWING_M * Math.sin(2 * Math.PI * hertz * t);
  }
}
