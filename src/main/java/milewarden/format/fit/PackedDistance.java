package milewarden.format.fit;

/**
 * Speed and distance packed into three bytes by older recorders: twelve bits of speed in cm/s, and
 * above them twelve bits of a distance in sixteenths of a metre that rolls over.
 *
 * @see "the published description of the layout; from memory"
 */
final class PackedDistance {
  private static final int BITS = 12;
  private static final int MASK = (1 << BITS) - 1;
  private static final double SIXTEENTHS = 16;

  private long sum;
  private long last = -1;

  /** A count begins again. */
  void restart() {
    last = -1;
  }

  /** Cumulative metres after a record with this value. */
  double metres(long packed) {
    long now = packed >> BITS & MASK;
    if (last >= 0) sum += now - last & MASK;
    else sum += now;
    last = now;
    return sum / SIXTEENTHS;
  }

  static double speedMps(long packed) {
    long value = packed & MASK;
    return value == MASK ? Double.NaN : value / 100.0;
  }
}
