package milewarden.accuracy;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.Bounds;
import milewarden.course.Direction;

/**
 * One pass, measured.
 *
 * @param index 1 for the first pass of the recording
 * @param laps laps of a closed course, 1 for an open one
 * @param onCourse false where a stretch lay further off the line than the corridor for over 10 s
 * @param predictedInflationM what the noise of this pass predicts at its interval (Rice mean)
 * @param excessPer10m step length minus advance per 10 m of chainage, in metres
 * @param lapDetails laps inside a pass bounded by marks; else empty
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
    Distances distances,
    Errors errors,
    Ladder ladder,
    OffsetStatistics offset,
    double predictedInflationM,
    List<Double> excessPer10m,
    List<LapDetail> lapDetails,
    Profile profile) {
  public PassMeasurement {
    excessPer10m = List.copyOf(excessPer10m);
    lapDetails = List.copyOf(lapDetails);
  }

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
