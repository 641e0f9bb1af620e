package milewarden.course;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.ReferenceCourse.HeightPoint;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.geodesy.Radii;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** From the ellipsoid up to the ground, and from the slope down to the map. */
final class GroundLengthTest {
  private static ReferenceCourse course(
      double latitudeDeg,
      double lineM,
      double measuredM,
      OptionalDouble meanHeightM,
      List<HeightPoint> profile) {
    Position from = new Position(latitudeDeg, -30);
    return new ReferenceCourse(
        new CourseSlug("high"),
        "",
        "High",
        false,
        new Polyline(List.of(from, Geodesics.direct(from, 90, lineM))),
        List.of(),
        measuredM,
        0.1,
        Optional.empty(),
        "",
        Method.WHEEL,
        OptionalDouble.empty(),
        meanHeightM,
        profile,
        OptionalDouble.empty(),
        "",
        SkyView.OPEN,
        "",
        Map.of());
  }

  private static ReferenceCourse at(double latitudeDeg, double heightM) {
    return course(latitudeDeg, 1000, 1000, OptionalDouble.of(heightM), List.of());
  }

  private static ReferenceCourse profiled(double measuredM, HeightPoint... profile) {
    return course(45, 1000, measuredM, OptionalDouble.empty(), List.of(profile));
  }

  /** Where the mean radius of curvature is the given one; it grows with latitude. */
  private static double latitudeOfRadius(double radiusM) {
    double low = 0;
    double high = 90;
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (Radii.meanM(middle) < radiusM) low = middle;
      else high = middle;
    }
    return low;
  }

  @ParameterizedTest
  // Elevation factor R / (R + h) with R = 6,371,000 m, printed in a public grid-to-ground table of
  // surveyors. Its entry for 500 m is cut off after the sixth decimal, not rounded.
  @CsvSource({"200, 0.999969", "500, 0.999921", "1000, 0.999843", "2000, 0.999686"})
  void theElevationFactorsOfASurveyorsTableAreMet(double heightM, double factor) {
    double latitude = latitudeOfRadius(6_371_000);
    assertThat(1 / at(latitude, heightM).groundFactor()).isCloseTo(factor, within(1e-6));
  }

  @Test
  void aWorkedReductionOfASurveyTextIsMet() {
    // An open survey text: 1305.4000 m on the ground at h = 311 m, combined factor 1.00016082
    // against
    // 1.000209087 on the ellipsoid: an elevation factor of 0.99995121. Its radius is not printed;
    // between the smallest and the largest mean radius the factor moves by 3e-7.
    double factor = 1.00016082 / 1.000209087;
    assertThat(factor).isCloseTo(0.9999517, within(1e-6));
    for (double latitude : new double[] {0, 30, 45, 60, 75})
      assertThat(1 / at(latitude, 311).groundFactor()).isCloseTo(0.99995121, within(4e-7));
  }

  @Test
  void aKilometreAt1600MetresIsAQuarterOfAMetreLongerOnTheGround() {
    // 1000.2515 m at 40 degrees: h over the mean radius there, computed apart from this program.
    assertThat(1000 * at(40, 1600).groundFactor()).isCloseTo(1000.2515, within(5e-4));
    // 1,600 m of height is 0.025 %.
    assertThat(100 * (at(40, 1600).groundFactor() - 1)).isCloseTo(0.025, within(5e-4));
  }

  @Test
  void withoutAHeightTheGroundIsTheEllipsoid() {
    ReferenceCourse course = course(45, 1000, 1000, OptionalDouble.empty(), List.of());
    assertThat(course.groundFactor()).isEqualTo(1);
    assertThat(course.scale()).isCloseTo(1, within(1e-9));
  }

  @Test
  void belowTheEllipsoidTheGroundIsShorter() {
    // Closed form: 400 m below, 400 / 6,378,101 = 6.27e-5.
    assertThat(1 - at(45, -400).groundFactor()).isCloseTo(400 / 6_378_101.0302, within(1e-12));
  }

  @Test
  void slopesGoDownToTheMapByPythagoras() {
    // 3-4-5: 500 m along, 300 m up, 400 m on the map; 5-12-13: 130 m along, 50 m down, 120 m.
    ReferenceCourse course =
        profiled(
            1000,
            new HeightPoint(100, 20),
            new HeightPoint(600, 320),
            new HeightPoint(730, 270),
            new HeightPoint(1000, 270));
    assertThat(course.referenceM()).isEqualTo(1000);
    assertThat(course.horizontalM()).isCloseTo(1000 - 100 - 10, within(1e-9));
  }

  @Test
  void aTenPerCentGradeIsHalfAPercent() {
    // g^2 / 2 for small g, with g the rise over the way along the slope; next term g^4 / 8.
    ReferenceCourse course = profiled(2000, new HeightPoint(0, 0), new HeightPoint(2000, 200));
    double percent = 100 * (1 - course.horizontalM() / course.referenceM());
    assertThat(percent).isCloseTo(0.5 + 100 * Math.pow(0.1, 4) / 8, within(1e-4));
  }

  @Test
  void whatTheProfileDoesNotCoverIsLevel() {
    ReferenceCourse some = profiled(1000, new HeightPoint(200, 5), new HeightPoint(250, 35));
    assertThat(some.horizontalM()).isCloseTo(990, within(1e-9));
    assertThat(profiled(1000).horizontalM()).isEqualTo(1000);
    assertThat(profiled(1000, new HeightPoint(500, 40)).horizontalM()).isEqualTo(1000);
  }

  @Test
  void heightAndSlopeAreTakenTogetherAndTheScaleClosesTheSum() {
    // The line on the map is 990 m of ground: the wheel took 1,000 m along the slope.
    double h = 800;
    double lineM = 990 / (1 + h / Radii.meanM(45));
    ReferenceCourse course =
        course(
            45,
            lineM,
            1000,
            OptionalDouble.of(h),
            List.of(new HeightPoint(300, 0), new HeightPoint(350, 30)));
    assertThat(course.horizontalM()).isCloseTo(990, within(1e-9));
    // k = H / (G x ground): 1 where line, heights and wheel agree; 1e-9 for the middle's latitude.
    assertThat(course.scale()).isCloseTo(1, within(1e-8));
    assertThat(course.ellipsoidLengthM() * course.groundFactor() * course.scale())
        .isCloseTo(course.horizontalM(), within(1e-9));
  }
}
