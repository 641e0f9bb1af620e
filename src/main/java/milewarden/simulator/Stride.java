package milewarden.simulator;

import milewarden.device.Gait;

/**
 * How often a wearer's feet and arms go. Strides a second grow as the root of the speed: common
 * practice, no source; half of a faster pace comes from longer steps.
 */
final class Stride {
  // No source: strides (two steps) a second at the walk's mean speed.
  private static final double WALK_HZ = 0.95;
  private static final double RUN_HZ = 1.4;
  private static final double RIDE_HZ = 1.3;

  private final double usualHz;
  private final double usualMps;

  Stride(Walk walk) {
    usualHz = hertz(walk.gait());
    usualMps = walk.speedMps();
  }

  private static double hertz(Gait gait) {
    return switch (gait) {
      case WALK -> WALK_HZ;
      case RUN -> RUN_HZ;
      case RIDE -> RIDE_HZ;
    };
  }

  /** At the walk's mean speed. */
  double usualHz() {
    return usualHz;
  }

  /** 0 while standing. */
  double hertzAt(double mps) {
    return usualHz * Math.sqrt(Math.max(0, mps) / usualMps);
  }
}
