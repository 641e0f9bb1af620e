package milewarden.simulator;

import java.util.random.RandomGenerator;

/** The error of a device's positions, metres east and north, fix by fix. */
final class Noise {
  private final Receiver receiver;
  private final Sky sky;
  private final GaussMarkov ownEast;
  private final GaussMarkov ownNorth;
  private final GaussMarkov sharedEast;
  private final GaussMarkov sharedNorth;
  private final RandomGenerator white;
  private double lastS;
  private double east;
  private double north;

  Noise(Receiver receiver, Sky sky, long seed) {
    this.receiver = receiver;
    this.sky = sky;
    RandomGenerator own = Seeds.random(seed, "position");
    ownEast = new GaussMarkov(own, receiver.sigmaM(), receiver.correlationTimeS());
    ownNorth = new GaussMarkov(own, receiver.sigmaM(), receiver.correlationTimeS());
    RandomGenerator shared = Seeds.random(sky.seed(), "sky");
    sharedEast = new GaussMarkov(shared, sky.commonSigmaM(), sky.correlationTimeS());
    sharedNorth = new GaussMarkov(shared, sky.commonSigmaM(), sky.correlationTimeS());
    white = Seeds.random(seed, "white");
  }

  /** Goes on to {@code seconds} after the start, at this chainage within a lap. */
  void advanceTo(double seconds, double chainageM) {
    double gone = seconds - lastS;
    lastS = seconds;
    double factor = sky.noiseFactor() * stretch(chainageM);
    east = factor * (ownEast.advance(gone) + fresh()) + sharedEast.advance(gone);
    north = factor * (ownNorth.advance(gone) + fresh()) + sharedNorth.advance(gone);
  }

  private double fresh() {
    return receiver.whiteSigmaM() == 0 ? 0 : receiver.whiteSigmaM() * white.nextGaussian();
  }

  private double stretch(double chainageM) {
    for (Receiver.Stretch s : receiver.stretches())
      if (chainageM >= s.fromM() && chainageM < s.toM()) return s.factor();
    return 1;
  }

  double eastM() {
    return east;
  }

  double northM() {
    return north;
  }
}
