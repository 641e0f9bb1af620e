package milewarden.track;

import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The fixes of one recording in the order of the file, as parallel arrays, cut into segments.
 *
 * <p>Immutable. The array accessors hand out the track's own arrays for speed: they are never
 * written to.
 */
public final class Track {
  /** Stands in {@link #timesMs()} where a fix has no time. */
  public static final long NO_TIME = Long.MIN_VALUE;

  private final String format;
  private final double[] latitudesDeg;
  private final double[] longitudesDeg;
  private final double[] heightsM;
  private final long[] timesMs;
  private final double[] distancesM;
  private final double[] speedsMps;
  private final int[] segmentStarts;
  private final DeviceClaim claim;
  private final OptionalDouble claimedTotalM;
  private final double[] cadencesPerMin;
  private final List<ClaimedLap> laps;
  private final List<TimerPause> pauses;

  /**
   * @param format the trade's short name of the format in lower case: {@code gpx}
   * @param latitudesDeg WGS 84, finite, -90 to 90
   * @param longitudesDeg WGS 84, finite, -180 to 180
   * @param heightsM metres as the file gives them, NaN where missing; empty if no fix has one
   * @param timesMs UTC milliseconds since 1970, {@link #NO_TIME} where missing
   * @param distancesM the device's own cumulative distance, NaN where missing; empty if none
   * @param speedsMps the device's own speed, NaN where missing; empty if none
   * @param segmentStarts index of the first fix of each segment, ascending, first 0
   * @param claimedTotalM the device's own total where the file gives one
   */
  public Track(
      String format,
      double[] latitudesDeg,
      double[] longitudesDeg,
      double[] heightsM,
      long[] timesMs,
      double[] distancesM,
      double[] speedsMps,
      int[] segmentStarts,
      DeviceClaim claim,
      OptionalDouble claimedTotalM) {
    this(
        format,
        latitudesDeg,
        longitudesDeg,
        heightsM,
        timesMs,
        distancesM,
        speedsMps,
        segmentStarts,
        claim,
        claimedTotalM,
        new double[0],
        List.of(),
        List.of());
  }

  private Track(
      String format,
      double[] latitudesDeg,
      double[] longitudesDeg,
      double[] heightsM,
      long[] timesMs,
      double[] distancesM,
      double[] speedsMps,
      int[] segmentStarts,
      DeviceClaim claim,
      OptionalDouble claimedTotalM,
      double[] cadencesPerMin,
      List<ClaimedLap> laps,
      List<TimerPause> pauses) {
    int n = latitudesDeg.length;
    if (n == 0) throw new IllegalArgumentException("a track has at least one fix");
    if (longitudesDeg.length != n || timesMs.length != n)
      throw new IllegalArgumentException("arrays of different lengths");
    // Readers drop and count such places; one that came in would make every sum NaN.
    for (int i = 0; i < n; i++)
      if (!(Math.abs(latitudesDeg[i]) <= 90) || !Double.isFinite(longitudesDeg[i]))
        throw new IllegalArgumentException("fix " + i + " has no place on the earth");
    for (double[] optional : new double[][] {heightsM, distancesM, speedsMps, cadencesPerMin})
      if (optional.length != 0 && optional.length != n)
        throw new IllegalArgumentException("arrays of different lengths");
    if (segmentStarts.length == 0 || segmentStarts[0] != 0)
      throw new IllegalArgumentException("first segment starts at 0");
    for (int i = 1; i < segmentStarts.length; i++)
      if (segmentStarts[i] <= segmentStarts[i - 1] || segmentStarts[i] >= n)
        throw new IllegalArgumentException("segments: " + Arrays.toString(segmentStarts));
    this.format = format;
    this.latitudesDeg = latitudesDeg;
    this.longitudesDeg = longitudesDeg;
    this.heightsM = heightsM;
    this.timesMs = timesMs;
    this.distancesM = distancesM;
    this.speedsMps = speedsMps;
    this.segmentStarts = segmentStarts;
    this.claim = claim;
    this.claimedTotalM = claimedTotalM;
    this.cadencesPerMin = cadencesPerMin;
    this.laps = List.copyOf(laps);
    this.pauses = List.copyOf(pauses);
  }

  /** This track with every time moved: its clock stood wrong. */
  public Track movedBy(Duration by) {
    long ms = by.toMillis();
    long[] moved = new long[timesMs.length];
    for (int i = 0; i < moved.length; i++)
      moved[i] = timesMs[i] == NO_TIME ? NO_TIME : timesMs[i] + ms;
    return new Track(
        format,
        latitudesDeg,
        longitudesDeg,
        heightsM,
        moved,
        distancesM,
        speedsMps,
        segmentStarts,
        claim,
        claimedTotalM,
        cadencesPerMin,
        laps.stream().map(lap -> lap.movedBy(by)).toList(),
        pauses.stream().map(p -> new TimerPause(p.from().plus(by), p.to().plus(by))).toList());
  }

  /** This track with the device's own total. */
  public Track withClaimedTotalM(double totalM) {
    return with(OptionalDouble.of(totalM), cadencesPerMin, laps, pauses);
  }

  /**
   * This track with the cadence of each fix.
   *
   * @param perMin as the file gives it, NaN where missing; as long as the track, or empty
   */
  public Track withCadencesPerMin(double[] perMin) {
    return with(claimedTotalM, perMin, laps, pauses);
  }

  /** This track with the laps that the device counted, in order of time. */
  public Track withLaps(List<ClaimedLap> claimed) {
    return with(claimedTotalM, cadencesPerMin, claimed, pauses);
  }

  /** This track with the stretches in which the device's timer stood, in order of time. */
  public Track withPauses(List<TimerPause> stood) {
    return with(claimedTotalM, cadencesPerMin, laps, stood);
  }

  private Track with(
      OptionalDouble total, double[] cadences, List<ClaimedLap> claimed, List<TimerPause> stood) {
    return new Track(
        format,
        latitudesDeg,
        longitudesDeg,
        heightsM,
        timesMs,
        distancesM,
        speedsMps,
        segmentStarts,
        claim,
        total,
        cadences,
        claimed,
        stood);
  }

  public String format() {
    return format;
  }

  /** The number of fixes; at least 1. */
  public int size() {
    return latitudesDeg.length;
  }

  public double[] latitudesDeg() {
    return latitudesDeg;
  }

  public double[] longitudesDeg() {
    return longitudesDeg;
  }

  /** Empty where no fix has a height. */
  public double[] heightsM() {
    return heightsM;
  }

  public long[] timesMs() {
    return timesMs;
  }

  /** The device's own cumulative distance; empty where the file carries none. */
  public double[] distancesM() {
    return distancesM;
  }

  /** The device's own speed; empty where the file carries none. */
  public double[] speedsMps() {
    return speedsMps;
  }

  /**
   * Steps of one foot, or turns of the crank, a minute as the device counted them; empty where the
   * file carries none.
   */
  public double[] cadencesPerMin() {
    return cadencesPerMin;
  }

  /** What the device says of its laps; empty where it says nothing. */
  public List<ClaimedLap> laps() {
    return laps;
  }

  /** When the device's timer stood; empty where the file does not say. */
  public List<TimerPause> pauses() {
    return pauses;
  }

  public boolean hasTime(int i) {
    return timesMs[i] != NO_TIME;
  }

  /** The number of segments; at least 1. */
  public int segments() {
    return segmentStarts.length;
  }

  public int segmentStart(int segment) {
    return segmentStarts[segment];
  }

  /** One behind the segment's last fix. */
  public int segmentEnd(int segment) {
    return segment + 1 < segmentStarts.length ? segmentStarts[segment + 1] : size();
  }

  public DeviceClaim claim() {
    return claim;
  }

  public OptionalDouble claimedTotalM() {
    return claimedTotalM;
  }

  /** The time of the first fix that has one. */
  public Optional<Instant> startedAt() {
    for (long t : timesMs) if (t != NO_TIME) return Optional.of(Instant.ofEpochMilli(t));
    return Optional.empty();
  }

  /** The time of the last fix that has one. */
  public Optional<Instant> endedAt() {
    for (int i = size() - 1; i >= 0; i--)
      if (timesMs[i] != NO_TIME) return Optional.of(Instant.ofEpochMilli(timesMs[i]));
    return Optional.empty();
  }
}
