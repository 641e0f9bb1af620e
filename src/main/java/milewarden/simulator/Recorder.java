package milewarden.simulator;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import milewarden.geodesy.Geodesics;
import milewarden.track.Track;

/** Gathers fixes, the device's own distance and the truth while a recording is made. */
final class Recorder {
  private static final double SECONDS_PER_MINUTE = 60;
  private final Receiver receiver;
  private final double scale;
  private final double gridPerDegree;
  private long[] timesMs = new long[1024];
  private final Column latitude = new Column();
  private final Column longitude = new Column();
  private final Column distance = new Column();
  private final Column cadence = new Column();
  private final TruthColumns truth = new TruthColumns();
  private final IntStream.Builder starts = IntStream.builder();
  private int size;
  private double lastLatDeg;
  private double lastLonDeg;
  private double positionsM;

  /**
   * @param dayPercent how much longer the device's own distance is that day
   */
  Recorder(Receiver receiver, double dayPercent) {
    this.receiver = receiver;
    scale = receiver.odometer().scale() * (1 + dayPercent / 100);
    gridPerDegree = Math.pow(10, receiver.decimals());
  }

  /**
   * One fix.
   *
   * @param latDeg the position before it is rounded for the file
   * @param countedM what the device has counted so far other than from positions, metres
   * @param strideHz of the wearer just now
   * @param newSegment true where a segment begins
   */
  void fix(
      long timeMs,
      double latDeg,
      double lonDeg,
      double countedM,
      double strideHz,
      boolean newSegment) {
    if (newSegment) starts.add(size);
    else positionsM += Geodesics.lengthM(lastLatDeg, lastLonDeg, latDeg, lonDeg);
    lastLatDeg = latDeg;
    lastLonDeg = lonDeg;
    if (size == timesMs.length) timesMs = Arrays.copyOf(timesMs, 2 * size);
    timesMs[size] = timeMs;
    latitude.set(size, Math.rint(latDeg * gridPerDegree) / gridPerDegree);
    longitude.set(size, Math.rint(lonDeg * gridPerDegree) / gridPerDegree);
    boolean fromPositions = receiver.odometer().source() == Odometer.Source.POSITIONS;
    distance.set(size, scale * (fromPositions ? positionsM : countedM));
    cadence.set(size, SECONDS_PER_MINUTE * strideHz);
    size++;
  }

  /** The truth about the fix just added. */
  void truth(TruthColumns.Row row) {
    truth.add(row);
  }

  SimulatedTrack finish(double referenceM) {
    if (size == 0) throw new IllegalArgumentException("the device never had a position");
    boolean counts = receiver.odometer().source() != Odometer.Source.NONE;
    double[] none = {};
    Track track =
        new Track(
            "gpx",
            latitude.cut(size),
            longitude.cut(size),
            none,
            Arrays.copyOf(timesMs, size),
            counts ? distance.cut(size) : none,
            none,
            starts.build().toArray(),
            receiver.claim(),
            OptionalDouble.empty());
    OptionalDouble recorded =
        counts ? OptionalDouble.of(distance.cut(size)[size - 1]) : OptionalDouble.empty();
    if (receiver.cadence()) track = track.withCadencesPerMin(cadence.cut(size));
    return new SimulatedTrack(track, truth.truth(referenceM), recorded);
  }
}
