package milewarden.simulator;

import java.util.Arrays;
import java.util.random.RandomGenerator;
import milewarden.course.Bounds;
import milewarden.course.Direction;

/** Where the walker's body is along the way, every tenth of a second from the start. */
final class Motion {
  /** Seconds between two entries. */
  static final double STEP_S = 0.1;

  // No source: how fast a person gets going and comes to a stand, m/s^2.
  private static final double ACCELERATION = 1.0;
  // No source: a walker's pace drifts over half a minute.
  private static final double SPEED_TIME_S = 30;
  private static final double CRAWL_MPS = 0.1;
  // Far above the rounding of a sum of 100,000 steps, far below anything measured.
  private static final double ROUNDING_M = 1e-6;

  private final Walk walk;
  private final double wayM;
  private final RandomGenerator random;
  private double[] wayDoneM = new double[1024];
  private int size;

  /** Walks the whole way; the same walk and seed give the same motion. */
  Motion(Walk walk, long seed) {
    this.walk = walk;
    random = Seeds.random(seed, "motion");
    boolean shuttles = !walk.course().closed();
    int leads = shuttles ? 2 * walk.laps() : 2;
    wayM = walk.laps() * walk.course().horizontalM() + leads * lead();
    add(0);
    stand(walk.standingS());
    go();
    stand(walk.standingS());
  }

  private double lead() {
    return walk.bounds() == Bounds.GATES ? walk.leadM() : 0;
  }

  private void go() {
    GaussMarkov pace = new GaussMarkov(random, walk.speedVariation(), SPEED_TIME_S);
    boolean fromStand = walk.standingS() > 0;
    double v = fromStand ? 0 : walk.speedMps();
    double way = 0;
    int nextPause = 0;
    while (way < wayM) {
      boolean pauses = nextPause < walk.pauses().size();
      double stop = pauses ? lead() + walk.pauses().get(nextPause).atM() : wayM;
      boolean brakes = pauses || fromStand;
      double wanted = walk.speedMps() * (1 + Math.max(-0.7, pace.advance(STEP_S)));
      if (brakes) wanted = Math.min(wanted, Math.sqrt(2 * ACCELERATION * Math.max(0, stop - way)));
      double change = ACCELERATION * STEP_S;
      v = Math.max(CRAWL_MPS, Math.max(v - 2 * change, Math.min(v + change, wanted)));
      way += v * STEP_S;
      if (way > stop - ROUNDING_M) way = stop;
      add(way);
      if (pauses && way >= stop) {
        stand(walk.pauses().get(nextPause).seconds());
        nextPause++;
        v = 0;
      }
    }
  }

  private void stand(double seconds) {
    for (long i = Math.round(seconds / STEP_S); i > 0; i--) add(wayDoneM[size - 1]);
  }

  private void add(double way) {
    if (size == wayDoneM.length) wayDoneM = Arrays.copyOf(wayDoneM, 2 * size);
    wayDoneM[size++] = way;
  }

  /** The number of entries; at least 2. */
  int size() {
    return size;
  }

  /** Metres on the way since the recording began at entry {@code i}. */
  double wayM(int i) {
    return wayDoneM[i];
  }

  /** Metres since the first mark: negative before it. */
  double travelledM(double way) {
    return way - lead();
  }

  /** True where the walker goes towards increasing chainage. */
  boolean forward(double way) {
    boolean first = walk.direction() == Direction.FORWARD;
    return walk.course().closed() || leg(way) % 2 == 0 ? first : !first;
  }

  /** Which lap, or which way over an open course, from 1; 0 outside of the marks. */
  int lap(double way) {
    double lengthM = walk.course().horizontalM();
    if (walk.course().closed()) {
      double gone = way - lead();
      boolean outside = gone < 0 || gone > walk.laps() * lengthM;
      return outside ? 0 : Math.min(walk.laps(), (int) (gone / lengthM) + 1);
    }
    double within = way - leg(way) * (lengthM + 2 * lead()) - lead();
    return within < 0 || within > lengthM ? 0 : leg(way) + 1;
  }

  /** Metres a second along the way at entry {@code i}; of the last 0. */
  double speedMps(int i) {
    return i + 1 < size ? (wayDoneM[i + 1] - wayDoneM[i]) / STEP_S : 0;
  }

  /** Chainage of the course at this metre of the way. */
  double chainageM(double way) {
    double lengthM = walk.course().horizontalM();
    if (walk.course().closed()) {
      double gone = way - lead();
      return walk.startChainageM() + (forward(way) ? gone : -gone);
    }
    double within = way - leg(way) * (lengthM + 2 * lead()) - lead();
    return forward(way) ? within : lengthM - within;
  }

  private int leg(double way) {
    double legM = walk.course().horizontalM() + 2 * lead();
    return Math.min(walk.laps() - 1, (int) (way / legM));
  }
}
