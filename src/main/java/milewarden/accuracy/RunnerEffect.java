package milewarden.accuracy;

import milewarden.device.Gait;
import milewarden.units.LengthRange;
import milewarden.units.PercentRange;

/**
 * What a distance error does to somebody who trusts the device; the interval of the error is
 * carried through.
 *
 * @param error signed, in percent of the distance run; above -100
 */
public record RunnerEffect(PercentRange error) {
  // World Athletics rules: the marathon is 42.195 km.
  private static final double MARATHON_M = 42_195.0;
  // ACSM metabolic equations, ACSM's Health and Fitness Journal 24(4) 2020, after the Guidelines,
  // 10th edition, table 6.3, on the flat: oxygen in ml per kg and minute, speed in m per minute.
  private static final double RESTING = 3.5;
  private static final double WALKING = 0.1;
  private static final double RUNNING = 0.2;

  public RunnerEffect {
    if (!(error.low() > -100)) throw new IllegalArgumentException("error: " + error);
  }

  /** Seconds from low to high. */
  public record Seconds(double low, double high) {
    public Seconds {
      if (!(low <= high)) throw new IllegalArgumentException("seconds: " + low + " to " + high);
    }
  }

  /** Pace that the device shows at a true pace; both in seconds for one length. */
  public Seconds shownPace(double truePaceS) {
    return new Seconds(truePaceS / factor(error.high()), truePaceS / factor(error.low()));
  }

  /** Time that somebody needs who holds the pace of a target time by the display; seconds. */
  public Seconds finishTime(double targetS) {
    return new Seconds(targetS * factor(error.low()), targetS * factor(error.high()));
  }

  /** What the device shows at the finish of a race of this length, metres. */
  public LengthRange shownAtFinish(double raceM) {
    return new LengthRange(raceM * factor(error.low()), raceM * factor(error.high()));
  }

  /** What the device shows at the finish of a marathon, metres. */
  public LengthRange shownMarathon() {
    return shownAtFinish(MARATHON_M);
  }

  /** What is really run when the display says this length, metres. */
  public LengthRange runWhenShown(double shownM) {
    return new LengthRange(shownM / factor(error.high()), shownM / factor(error.low()));
  }

  /**
   * By how many percent shown energy moves: of the two parts of the ACSM equation only that of the
   * speed scales. An estimate for people at large, no advice. There is no such equation for riding.
   *
   * @param gait walk or run
   * @param speedMps true speed, above 0
   */
  public PercentRange shownEnergy(Gait gait, double speedMps) {
    double perSpeed =
        switch (gait) {
          case WALK -> WALKING;
          case RUN -> RUNNING;
          case RIDE -> throw new IllegalArgumentException("no equation for riding");
        };
    double moving = perSpeed * speedMps * 60;
    double share = moving / (moving + RESTING);
    return new PercentRange(share * error.low(), share * error.high());
  }

  private static double factor(double percent) {
    return 1 + percent / 100;
  }
}
