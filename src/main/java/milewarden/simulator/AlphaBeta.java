package milewarden.simulator;

import java.util.Optional;

/** The filter of a {@link Tracker} on both coordinates; without one the input is handed through. */
final class AlphaBeta {
  private static final long EVERY = Math.round(Tracker.STEP_S / Motion.STEP_S);

  private final Optional<Tracker> tracker;
  // Place and way a second of both coordinates.
  private final double[] place = new double[2];
  private final double[] rate = new double[2];
  private boolean begun;
  private double since;

  AlphaBeta(Optional<Tracker> tracker) {
    this.tracker = tracker;
  }

  /** Whether the filter takes the place at this entry of the motion. */
  boolean takes(int entry) {
    return tracker.isPresent() && entry % EVERY == 0;
  }

  /** The place at this entry: a step of the filter where it takes one, else nothing but time. */
  void push(int entry, double a, double b) {
    if (!takes(entry) && tracker.isPresent()) {
      since = (entry % EVERY) * Motion.STEP_S;
      return;
    }
    since = 0;
    step(0, a);
    step(1, b);
    begun = true;
  }

  private void step(int axis, double measured) {
    if (tracker.isEmpty() || !begun) {
      place[axis] = measured;
      return;
    }
    double predicted = place[axis] + rate[axis] * Tracker.STEP_S;
    double innovation = measured - predicted;
    place[axis] = predicted + tracker.get().alpha() * innovation;
    rate[axis] += tracker.get().beta() * innovation / Tracker.STEP_S;
  }

  /** Between two steps it goes on as it did. */
  double first() {
    return place[0] + rate[0] * since;
  }

  double second() {
    return place[1] + rate[1] * since;
  }
}
