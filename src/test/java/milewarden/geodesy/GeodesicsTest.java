package milewarden.geodesy;

import static milewarden.geodesy.Table.number;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.List;
import java.util.Map;
import net.sf.geographiclib.Geodesic;
import org.junit.jupiter.api.Test;

/** Sources of every table: src/test/resources/geodesy/SOURCE.txt. */
final class GeodesicsTest {
  private static final double WGS84_INVERSE_FLATTENING = 298.257223563;

  private static double length(Map<String, String> row) {
    return Geodesics.lengthM(
        number(row, "lat1_deg"),
        number(row, "lon1_deg"),
        number(row, "lat2_deg"),
        number(row, "lon2_deg"));
  }

  /** The great circle on the sphere of the mean radius R1 = (2a+b)/3: what must not be used. */
  private static double onASphere(Map<String, String> row) {
    double p1 = Math.toRadians(number(row, "lat1_deg"));
    double p2 = Math.toRadians(number(row, "lat2_deg"));
    double dl = Math.toRadians(number(row, "lon2_deg") - number(row, "lon1_deg"));
    double h =
        Math.pow(Math.sin((p2 - p1) / 2), 2)
            + Math.cos(p1) * Math.cos(p2) * Math.pow(Math.sin(dl / 2), 2);
    return 2 * 6371008.7714 * Math.asin(Math.sqrt(h));
  }

  @Test
  void theTestSetForGeodesicsIsMetToAMicrometre() throws IOException {
    List<Map<String, String>> rows = Table.read("/geodesy/geodtest_excerpt.csv");
    assertThat(rows).hasSizeGreaterThan(7);
    for (Map<String, String> row : rows)
      assertThat(length(row)).as(row.toString()).isCloseTo(number(row, "s12_m"), within(1e-6));
  }

  @Test
  void aSphereFailsThatTestSet() throws IOException {
    int failed = 0;
    List<Map<String, String>> rows = Table.read("/geodesy/geodtest_excerpt.csv");
    for (Map<String, String> row : rows)
      if (Math.abs(onASphere(row) / number(row, "s12_m") - 1) > 1e-4) failed++;
    assertThat(failed).isGreaterThan(rows.size() / 2);
  }

  @Test
  void directAndInverseAgreeOnTheTestSet() throws IOException {
    for (Map<String, String> row : Table.read("/geodesy/geodtest_excerpt.csv")) {
      Position from = new Position(number(row, "lat1_deg"), number(row, "lon1_deg"));
      Position to = Geodesics.direct(from, number(row, "azi1_deg"), number(row, "s12_m"));
      double there =
          Geodesics.lengthM(
              to.latitudeDeg(),
              to.longitudeDeg(),
              number(row, "lat2_deg"),
              number(row, "lon2_deg"));
      assertThat(there).as(row.toString()).isLessThan(1e-6);
      if (number(row, "s12_m") > 1000 && number(row, "s12_m") < 1e6)
        // 1e-8 degrees at 1 km are a fifth of a micrometre.
        assertThat(Geodesics.azimuthDeg(from, to)).isCloseTo(number(row, "azi1_deg"), within(1e-7));
    }
  }

  @Test
  void workedExamplesAreMetToTheirLastDigit() throws IOException {
    int checked = 0;
    for (Map<String, String> row : Table.read("/geodesy/geodesic_worked_examples.csv")) {
      if (number(row, "inv_f") != WGS84_INVERSE_FLATTENING) continue;
      String published = row.get("s12_m_published");
      int decimals = published.contains(".") ? published.length() - published.indexOf('.') - 1 : 0;
      // Half of the last digit printed; the recomputed column (an independent program) to 1e-6 m.
      assertThat(length(row))
          .as(row.get("name"))
          .isCloseTo(Double.parseDouble(published), within(0.5 * Math.pow(10, -decimals) + 1e-6));
      assertThat(length(row)).isCloseTo(number(row, "s12_m_recomputed"), within(1e-6));
      checked++;
    }
    assertThat(checked).isGreaterThanOrEqualTo(6);
  }

  @Test
  void theLibraryMeetsTheNationalManualOnItsOwnEllipsoid() throws IOException {
    Map<String, String> row = Table.read("/geodesy/geodesic_worked_examples.csv").get(0);
    Geodesic grs80 = new Geodesic(number(row, "a_m"), 1 / number(row, "inv_f"));
    double s =
        grs80.Inverse(
                number(row, "lat1_deg"),
                number(row, "lon1_deg"),
                number(row, "lat2_deg"),
                number(row, "lon2_deg"))
            .s12;
    assertThat(s).isCloseTo(number(row, "s12_m_published"), within(0.0005));
  }

  @Test
  void vincentysTableIsMetToAMillimetreOnItsOwnEllipsoids() throws IOException {
    for (Map<String, String> row : Table.read("/geodesy/vincenty_1975_table2.csv")) {
      Geodesic own = new Geodesic(number(row, "a_m"), 1 / number(row, "inv_f"));
      double s =
          own.Inverse(
                  degrees(row.get("lat1_dms")),
                  0,
                  degrees(row.get("lat2_dms")),
                  degrees(row.get("dlon_dms")))
              .s12;
      // His own residuals are under a millimetre.
      assertThat(s).as(row.get("line")).isCloseTo(number(row, "s_m_published"), within(1e-3));
    }
  }

  private static double degrees(String dms) {
    String[] parts = dms.trim().split(" ");
    double d = Math.abs(Double.parseDouble(parts[0]));
    double value = d + Double.parseDouble(parts[1]) / 60 + Double.parseDouble(parts[2]) / 3600;
    return parts[0].startsWith("-") ? -value : value;
  }
}
