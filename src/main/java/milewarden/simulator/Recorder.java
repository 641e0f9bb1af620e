package milewarden.simulator;

import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import milewarden.geodesy.Geodesics;
import milewarden.track.Track;

/** Gathers fixes, the device's own distance and the truth while a recording is made. */
final class Recorder {
  private final Receiver receiver;
  private final double scale;
  private final double gridPerDegree;
  private long[] timesMs = new long[1024];
  private final Column latitude = new Column();
  private final Column longitude = new Column();
  private final Column distance = new Column();
  private final Column travelled = new Column();
  private final Column chainage = new Column();
  private final Column offset = new Column();
  private final Column trueLatitude = new Column();
  private final Column trueLongitude = new Column();
  private final IntStream.Builder starts = IntStream.builder();
  private int size;
  private double lastLatDeg;
  private double lastLonDeg;
  private double positionsM;

  /** One growing column of doubles. */
  private static final class Column {
    private double[] values = new double[1024];

    void set(int i, double value) {
      if (i == values.length) values = Arrays.copyOf(values, 2 * i);
      values[i] = value;
    }

    double[] cut(int n) {
      return Arrays.copyOf(values, n);
    }
  }

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
   * @param wayM what a perfect speed sensor has counted so far, metres
   * @param newSegment true where a segment begins
   */
  void fix(long timeMs, double latDeg, double lonDeg, double wayM, boolean newSegment) {
    if (newSegment) starts.add(size);
    else positionsM += Geodesics.lengthM(lastLatDeg, lastLonDeg, latDeg, lonDeg);
    lastLatDeg = latDeg;
    lastLonDeg = lonDeg;
    if (size == timesMs.length) timesMs = Arrays.copyOf(timesMs, 2 * size);
    timesMs[size] = timeMs;
    latitude.set(size, Math.rint(latDeg * gridPerDegree) / gridPerDegree);
    longitude.set(size, Math.rint(lonDeg * gridPerDegree) / gridPerDegree);
    boolean fromSpeed = receiver.odometer().source() == Odometer.Source.SPEED;
    distance.set(size, scale * (fromSpeed ? wayM : positionsM));
    size++;
  }

  /** The truth about the fix just added; {@code place} is latitude and longitude. */
  void truth(double travelledM, double chainageM, double offsetM, double[] place) {
    travelled.set(size - 1, travelledM);
    chainage.set(size - 1, chainageM);
    offset.set(size - 1, offsetM);
    trueLatitude.set(size - 1, place[0]);
    trueLongitude.set(size - 1, place[1]);
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
    Truth truth =
        new Truth(
            referenceM,
            travelled.cut(size),
            chainage.cut(size),
            offset.cut(size),
            trueLatitude.cut(size),
            trueLongitude.cut(size));
    OptionalDouble recorded =
        counts ? OptionalDouble.of(distance.cut(size)[size - 1]) : OptionalDouble.empty();
    return new SimulatedTrack(track, truth, recorded);
  }
}
