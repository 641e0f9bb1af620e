package milewarden.accuracy;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.noise.NoiseCheck;
import milewarden.accuracy.noise.OffsetStatistics;
import milewarden.course.Bounds;
import milewarden.course.Direction;

/**
 * One pass, measured.
 *
 * @param index 1 for the first pass of the recording
 * @param laps laps of a closed course; of an open one the ways over it that one reading covers,
 *     else 1
 * @param onCourse false where a stretch lay further off the line than the corridor for over 10 s
 * @param trackResolvable false where the positions are too coarse for the track's length to count
 * @param offLine those stretches
 * @param predictedInflationM what the noise of this pass predicts at its interval (Rice mean)
 * @param noise whether plain noise explains the wander
 * @param gapShare share of the pass's length that lies in gaps, 0 to 1
 * @param excessByKind the same excess by kind of step; every kind once, in the order of the kinds
 * @param excessPer10m step length minus advance per 10 m of chainage, in metres
 * @param lapDetails laps inside a pass bounded by marks; else empty
 * @param ascent empty where the device wrote no heights, and in results of earlier engines
 * @param fingerprints habits of the device as far as this pass shows them; empty in results of
 *     earlier engines, which stored none
 * @param profile chainage, offset and speed of the fixes, thinned for charts
 */
public record PassMeasurement(
    int index,
    Direction direction,
    Bounds bounds,
    int laps,
    Optional<Instant> startedAt,
    OptionalDouble durationS,
    boolean onCourse,
    boolean trackResolvable,
    List<OffLine> offLine,
    Distances distances,
    Errors errors,
    Ladder ladder,
    OffsetStatistics offset,
    double predictedInflationM,
    NoiseCheck noise,
    double gapShare,
    List<KindExcess> excessByKind,
    List<Double> excessPer10m,
    List<LapDetail> lapDetails,
    Optional<Ascent> ascent,
    List<Fingerprint> fingerprints,
    Profile profile) {
  public PassMeasurement {
    offLine = List.copyOf(offLine);
    excessByKind = List.copyOf(excessByKind);
    excessPer10m = List.copyOf(excessPer10m);
    lapDetails = List.copyOf(lapDetails);
    fingerprints = fingerprints == null ? List.of() : List.copyOf(fingerprints);
  }

  /**
   * A stretch further off the line than the corridor.
   *
   * @param fromM chainage along the pass, metres, scaled to the reference
   * @param toM where the track came back
   * @param largestOffsetM how far off, not negative
   */
  public record OffLine(
      Optional<Instant> from,
      Optional<Instant> to,
      double fromM,
      double toM,
      double largestOffsetM) {}

  /**
   * What the steps of one kind add.
   *
   * @param steps how many
   * @param lengthM their geodesic length on the ground
   * @param excessM their length minus their advance along the course
   */
  public record KindExcess(StepKind kind, int steps, double lengthM, double excessM) {}

  /** One lap of a pass bounded by marks. */
  public record LapDetail(int index, double trackM, OptionalDouble durationS) {}

  /**
   * Series along the pass for charts; parallel lists.
   *
   * @param chainageM along the course, metres, scaled to the reference
   * @param offsetM right positive
   * @param speedMps matched speed; NaN where times are missing
   * @param latitudeDeg of the fixes
   * @param longitudeDeg of the fixes
   */
  public record Profile(
      List<Double> chainageM,
      List<Double> offsetM,
      List<Double> speedMps,
      List<Double> latitudeDeg,
      List<Double> longitudeDeg) {
    public Profile {
      chainageM = List.copyOf(chainageM);
      offsetM = List.copyOf(offsetM);
      speedMps = List.copyOf(speedMps);
      latitudeDeg = List.copyOf(latitudeDeg);
      longitudeDeg = List.copyOf(longitudeDeg);
    }
  }
}
