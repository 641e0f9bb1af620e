package milewarden.course;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Radii;

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
 * @param otherProperties properties of the file that this version of the program does not know, and
 *     the raw field sheet, by name as JSON text: kept and written again
 * @param change who made this version, when and why; empty where the file doesn't say
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
    String notes,
    Map<String, String> otherProperties,
    Optional<CourseChange> change) {
  /** The property of the file with the raw readings of the measurement. */
  public static final String FIELD_SHEET = "field_sheet";

  /** The property of the file that names the recording that it was drafted from by its SHA-256. */
  public static final String DRAFTED_FROM = "drafted_from";

  public ReferenceCourse {
    marks = List.copyOf(marks);
    heightProfile = List.copyOf(heightProfile);
    otherProperties = Map.copyOf(otherProperties);
    if (!(measuredLengthM > 0)) throw new IllegalArgumentException("length: " + measuredLengthM);
    if (!(standardUncertaintyM >= 0))
      throw new IllegalArgumentException("uncertainty: " + standardUncertaintyM);
  }

  /** A version of which nothing is known but what it says. */
  public ReferenceCourse(
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
      String notes,
      Map<String, String> otherProperties) {
    this(
        slug,
        version,
        name,
        closed,
        line,
        marks,
        measuredLengthM,
        standardUncertaintyM,
        measuredOn,
        measuredBy,
        method,
        safetyFactor,
        meanHeightM,
        heightProfile,
        corridorM,
        surface,
        skyView,
        notes,
        otherProperties,
        Optional.empty());
  }

  /** A point of the height profile, metres. */
  public record HeightPoint(double chainageM, double heightM) {}

  /**
   * R of one traversal: the measured length with its safety factor, on the ground along the slope.
   */
  public double referenceM() {
    return measuredLengthM * safetyFactor.orElse(1.0);
  }

  /**
   * H of one traversal: the reference with its slope taken out by the height profile, sum of
   * sqrt(ds^2 - dz^2); equal to {@link #referenceM()} where there is no profile. What the profile
   * does not cover counts as level.
   */
  public double horizontalM() {
    double slope = 0;
    for (int i = 1; i < heightProfile.size(); i++) {
      double ds = heightProfile.get(i).chainageM() - heightProfile.get(i - 1).chainageM();
      double dz = heightProfile.get(i).heightM() - heightProfile.get(i - 1).heightM();
      slope += ds - Math.sqrt(Math.max(0, ds * ds - dz * dz));
    }
    return referenceM() - slope;
  }

  /** Geodesic length of the line on the ellipsoid, metres; computed at every call. */
  public double ellipsoidLengthM() {
    return line.lengthM();
  }

  /**
   * By how much longer the ground is than the ellipsoid: 1 + h/R with the course's mean height and
   * the mean radius of curvature there; 1 where the height is not known.
   */
  public double groundFactor() {
    if (meanHeightM.isEmpty()) return 1;
    return 1 + meanHeightM.getAsDouble() / Radii.meanM(line.middle().latitudeDeg());
  }

  /**
   * k: the horizontal reference over the length of the drawn line brought to the ground. Chainage
   * along the line on the ground times k ends at exactly {@link #horizontalM()}. Computed at every
   * call: keep it.
   */
  public double scale() {
    return horizontalM() / (ellipsoidLengthM() * groundFactor());
  }

  /** Whether the line was drafted from recordings. */
  public boolean isDrafted() {
    return !otherProperties.getOrDefault(DRAFTED_FROM, "").isEmpty();
  }

  /**
   * Whether the line was drafted from this recording: judged by it, that recording says nothing.
   *
   * @param sha256 of the recording's bytes, in hexadecimal
   */
  public boolean isDraftedFrom(String sha256) {
    return !sha256.isEmpty() && otherProperties.getOrDefault(DRAFTED_FROM, "").contains(sha256);
  }

  /** The raw readings of its measurement as JSON text; empty where the file has none. */
  public Optional<String> fieldSheet() {
    return Optional.ofNullable(otherProperties.get(FIELD_SHEET));
  }

  /** This course with other unknown properties. */
  public ReferenceCourse withOtherProperties(Map<String, String> others) {
    return new ReferenceCourse(
        slug,
        version,
        name,
        closed,
        line,
        marks,
        measuredLengthM,
        standardUncertaintyM,
        measuredOn,
        measuredBy,
        method,
        safetyFactor,
        meanHeightM,
        heightProfile,
        corridorM,
        surface,
        skyView,
        notes,
        others,
        change);
  }

  /** This course as the next version of itself. */
  public ReferenceCourse changed(CourseChange why) {
    return new ReferenceCourse(
        slug,
        version,
        name,
        closed,
        line,
        marks,
        measuredLengthM,
        standardUncertaintyM,
        measuredOn,
        measuredBy,
        method,
        safetyFactor,
        meanHeightM,
        heightProfile,
        corridorM,
        surface,
        skyView,
        notes,
        otherProperties,
        Optional.of(why));
  }

  /** This course with another line and other marks on it. */
  public ReferenceCourse drawn(Polyline newLine, List<Mark> newMarks) {
    return new ReferenceCourse(
        slug,
        version,
        name,
        closed,
        newLine,
        newMarks,
        measuredLengthM,
        standardUncertaintyM,
        measuredOn,
        measuredBy,
        method,
        safetyFactor,
        meanHeightM,
        heightProfile,
        corridorM,
        surface,
        skyView,
        notes,
        otherProperties,
        change);
  }

  /**
   * This course measured anew. What else the file says of the measurement goes with the old one.
   *
   * @param fieldSheet the raw readings as JSON text
   */
  public ReferenceCourse measured(
      LengthBudget budget, Method by, Optional<LocalDate> on, String whom, String fieldSheet) {
    Map<String, String> others = new HashMap<>(otherProperties);
    others.put(FIELD_SHEET, fieldSheet);
    return new ReferenceCourse(
        slug,
        version,
        name,
        closed,
        line,
        marks,
        budget.lengthM(),
        budget.standardUncertaintyM() / budget.safetyFactor().orElse(1),
        on,
        whom,
        by,
        budget.safetyFactor(),
        meanHeightM,
        heightProfile,
        corridorM,
        surface,
        skyView,
        notes,
        others,
        change);
  }
}
