package milewarden.course;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.geodesy.Polyline;

/**
 * A version of a reference course: a line and the length that was measured along it on the ground.
 *
 * @param version SHA-256 of the file's content in hexadecimal
 * @param closed true for a loop that is run in laps; the line's last position equals its first
 * @param measuredLengthM along the slope on the ground, one traversal or lap, above 0
 * @param standardUncertaintyM of the measured length, 0 or above
 * @param safetyFactor 1.001 where the measured length is a certified figure that carries one
 * @param meanHeightM above the ellipsoid
 * @param heightProfile pairs of chainage and height in metres, ascending; may be empty
 * @param corridorM half width within which a fix is on the course; the engine's rule where empty
 */
public record ReferenceCourse(
    CourseSlug slug,
    String version,
    String name,
    boolean closed,
    Polyline line,
    List<Mark> marks,
    double measuredLengthM,
    double standardUncertaintyM,
    Optional<LocalDate> measuredOn,
    String measuredBy,
    Method method,
    OptionalDouble safetyFactor,
    OptionalDouble meanHeightM,
    List<HeightPoint> heightProfile,
    OptionalDouble corridorM,
    String surface,
    SkyView skyView,
    String notes) {
  public ReferenceCourse {
    marks = List.copyOf(marks);
    heightProfile = List.copyOf(heightProfile);
    if (!(measuredLengthM > 0)) throw new IllegalArgumentException("length: " + measuredLengthM);
    if (!(standardUncertaintyM >= 0))
      throw new IllegalArgumentException("uncertainty: " + standardUncertaintyM);
  }

  /** A point of the height profile, metres. */
  public record HeightPoint(double chainageM, double heightM) {}

  /**
   * R of one traversal: the measured length with its safety factor, on the ground along the slope.
   */
  public double referenceM() {
    return measuredLengthM * safetyFactor.orElse(1.0);
  }
}
