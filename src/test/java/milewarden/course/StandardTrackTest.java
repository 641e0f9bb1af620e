package milewarden.course;

import static milewarden.geodesy.Table.number;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.List;
import java.util.Map;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.geodesy.Table;
import org.junit.jupiter.api.Test;

/** Source of lanes and staggers: src/test/resources/course/SOURCE.txt. */
final class StandardTrackTest {
  private static final Position CENTRE = new Position(47, -20);

  @Test
  void lapsAndStaggersOfEveryLaneAreThePublishedOnes() throws IOException {
    for (Map<String, String> row : Table.read("/course/track_400m_lanes.csv")) {
      StandardTrack track = new StandardTrack(CENTRE, 30, Integer.parseInt(row.get("lane")));
      assertThat(track.radiusM()).isCloseTo(number(row, "running_line_radius_m"), within(1e-9));
      assertThat(track.lapM()).isCloseTo(number(row, "lap_length_m"), within(1e-6));
      assertThat(track.staggerM()).isCloseTo(number(row, "one_lap_stagger_m"), within(1e-6));
      String published = row.get("stagger_published_m");
      // Printed to the centimetre.
      if (!published.isBlank())
        assertThat(track.staggerM()).isCloseTo(Double.parseDouble(published), within(0.005));
    }
  }

  @Test
  void theDrawnLineIsAsLongAsTheLap() {
    for (int lane = 1; lane <= 9; lane++) {
      StandardTrack track = new StandardTrack(CENTRE, 117, lane);
      Polyline line = track.line(200);
      List<Position> positions = line.positions();
      assertThat(positions.get(positions.size() - 1)).isEqualTo(positions.get(0));
      // Chords are short by (pi/200)^2/24 of the bends: 3 mm in lane 9.
      assertThat(line.lengthM()).isCloseTo(track.lapM(), within(0.004));
    }
  }

  @Test
  void itIsRunAntiClockwise() {
    // Twice the area by the shoelace rule: positive when the line turns left.
    List<Position> p = new StandardTrack(CENTRE, 0, 1).line(50).positions();
    double area = 0;
    for (int i = 1; i < p.size(); i++) {
      double x1 = p.get(i - 1).longitudeDeg() - CENTRE.longitudeDeg();
      double y1 = p.get(i - 1).latitudeDeg() - CENTRE.latitudeDeg();
      double x2 = p.get(i).longitudeDeg() - CENTRE.longitudeDeg();
      double y2 = p.get(i).latitudeDeg() - CENTRE.latitudeDeg();
      area += x1 * y2 - x2 * y1;
    }
    assertThat(area).isPositive();
  }
}
