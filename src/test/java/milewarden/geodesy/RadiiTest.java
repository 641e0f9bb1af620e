package milewarden.geodesy;

import static milewarden.geodesy.Table.number;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.Map;
import org.junit.jupiter.api.Test;

final class RadiiTest {
  @Test
  void radiiOfCurvatureAreThoseOfTheTable() throws IOException {
    // Printed to 0.1 mm; source: SOURCE.txt beside the table.
    for (Map<String, String> row : Table.read("/geodesy/wgs84_radii_and_degrees.csv")) {
      double lat = number(row, "lat_deg");
      assertThat(Radii.meridianM(lat)).isCloseTo(number(row, "M_m"), within(1e-4));
      assertThat(Radii.primeVerticalM(lat)).isCloseTo(number(row, "N_m"), within(1e-4));
      assertThat(Radii.meanM(lat)).isCloseTo(number(row, "sqrtMN_m"), within(1e-4));
    }
  }
}
