package milewarden.geodesy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;

final class PolylineTest {
  private static final Position A = new Position(50, 179.999);
  private static final Position B = Geodesics.direct(A, 80, 300);
  private static final Position C = Geodesics.direct(B, 350, 400);

  @Test
  void theLengthIsTheSumOfItsPartsAndTheSameBackwards() {
    List<Position> positions = new ArrayList<>(List.of(A, B, C));
    Polyline line = new Polyline(positions);
    // Two geodesics of the library, 15 nm each.
    assertThat(line.lengthM()).isCloseTo(700, within(1e-6));
    assertThat(line.chainagesM()[0]).isZero();
    assertThat(line.chainagesM()[1]).isCloseTo(300, within(1e-6));
    assertThat(line.chainagesM()[2]).isEqualTo(line.lengthM());
    Collections.reverse(positions);
    assertThat(new Polyline(positions).lengthM()).isCloseTo(line.lengthM(), within(1e-7));
  }

  @Test
  void theMiddleOfALineOverTheAntimeridianLiesNearIt() {
    assertThat(B.longitudeDeg()).isNegative();
    Position middle = new Polyline(List.of(A, B, C)).middle();
    double far =
        Geodesics.lengthM(
            middle.latitudeDeg(), middle.longitudeDeg(), B.latitudeDeg(), B.longitudeDeg());
    assertThat(far).isLessThan(400);
  }
}
