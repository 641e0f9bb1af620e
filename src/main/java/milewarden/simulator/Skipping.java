package milewarden.simulator;

import java.util.Optional;

/** Which of the fixes that are due a 'smart' recording leaves out. */
final class Skipping {
  // Slower than this nothing can be said of a heading, metres between two fixes that are due.
  private static final double LEAST_M = 0.3;

  private final Optional<Receiver.Smart> smart;
  private double writtenS;
  private double writtenRad = Double.NaN;
  private double lastLatDeg = Double.NaN;
  private double lastLonDeg;

  Skipping(Receiver receiver) {
    smart = receiver.smart();
  }

  /**
   * Whether the fix that is due now is left out.
   *
   * @param place where the device is, latitude and longitude in degrees
   * @param must true where it is written in any case
   */
  boolean skips(double seconds, double[] place, boolean must) {
    if (smart.isEmpty()) return false;
    double heading = headingRad(place);
    lastLatDeg = place[0];
    lastLonDeg = place[1];
    double turned = Math.abs(Math.IEEEremainder(heading - writtenRad, 2 * Math.PI));
    // A heading not yet known is not a turn: comparisons with NaN are false.
    boolean turns = turned > Math.toRadians(smart.get().turnDeg());
    // Times are whole tenths of a second.
    boolean late = seconds - writtenS > smart.get().longestS() - 0.05;
    if (!must && !turns && !late) {
      if (Double.isNaN(writtenRad)) writtenRad = heading;
      return true;
    }
    writtenS = seconds;
    writtenRad = heading;
    return false;
  }

  private double headingRad(double[] place) {
    double north = (place[0] - lastLatDeg) * LocalMetre.perDegreeNorth(place[0]);
    double east = (place[1] - lastLonDeg) * LocalMetre.perDegreeEast(place[0]);
    return Math.hypot(north, east) > LEAST_M ? Math.atan2(east, north) : Double.NaN;
  }
}
