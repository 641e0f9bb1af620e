package milewarden.simulator;

import milewarden.simulator.Odometer.Lost;
import milewarden.simulator.Odometer.Source;

/** What a device has counted so far, other than from its positions. */
final class Counter {
  private static final double SECONDS_PER_MINUTE = 60;
  private static final int FEET = 2;

  private final Odometer odometer;
  private final Stride stride;
  private double sumM;

  Counter(Odometer odometer, Stride stride) {
    this.odometer = odometer;
    this.stride = stride;
  }

  /**
   * One step of the motion.
   *
   * @param wayM what was gone, metres
   * @param seconds how long it took
   * @param locked false before the first position
   * @param lost true where the device has no position just now
   */
  void add(double wayM, double seconds, boolean locked, boolean lost) {
    if (odometer.source() == Source.STEPS) sumM += stepsM(wayM, seconds);
    else if (!locked) return;
    else if (!lost || odometer.lost() == Lost.GOES_ON) sumM += wayM > 0 ? wayM : stepsM(0, seconds);
    else if (odometer.lost() == Lost.COUNTS_STEPS) sumM += stepsM(wayM, seconds);
  }

  private double stepsM(double wayM, double seconds) {
    double steps =
        wayM > 0
            ? FEET * stride.hertzAt(wayM / seconds) * seconds
            : odometer.idleStepsPerMin() / SECONDS_PER_MINUTE * seconds;
    return steps * odometer.stepM();
  }

  double sumM() {
    return sumM;
  }
}
