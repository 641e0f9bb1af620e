package milewarden.course;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import org.junit.jupiter.api.Test;

/** Lines laid out by the geodesic library's direct problem: their lengths are known. */
final class LineCheckTest {
  private static final Position START = new Position(52, -30);

  private static Position east(double metres, double north) {
    return Geodesics.direct(Geodesics.direct(START, 90, metres), 0, north);
  }

  private static Mark control(double metres, double chainage) {
    return new Mark(
        Mark.Role.CONTROL, east(metres, 3), OptionalDouble.of(chainage), "post " + metres);
  }

  private static ReferenceCourse course(double measured, List<Mark> marks) {
    List<Position> line = new ArrayList<>();
    for (int i = 0; i <= 10; i++) line.add(east(100 * i, 0));
    return new ReferenceCourse(
        new CourseSlug("dyke"),
        "",
        "Dyke",
        false,
        new Polyline(line),
        marks,
        measured,
        0.1,
        Optional.empty(),
        "",
        Method.WHEEL,
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        List.of(),
        OptionalDouble.empty(),
        "",
        SkyView.OPEN,
        "",
        Map.of());
  }

  @Test
  void theStretchWhereWheelAndLinePartIsNamed() {
    // Drawn 1,000 m; the wheel says 300, 304 and 1,002 m at the posts: 4 m lie in the second.
    LineCheck check =
        LineCheck.of(
            course(1002, List.of(control(300, 300), control(500, 502), control(800, 802))));
    assertThat(check.drawnM()).isCloseTo(1000, within(0.01));
    assertThat(check.stretches()).hasSize(4);
    LineCheck.Stretch worst = check.worst().orElseThrow();
    assertThat(worst.from()).isEqualTo("post 300.0");
    assertThat(worst.to()).isEqualTo("post 500.0");
    assertThat(worst.apartM()).isCloseTo(-2, within(0.02));
    double sum = check.stretches().stream().mapToDouble(LineCheck.Stretch::apartM).sum();
    assertThat(sum).isCloseTo(check.drawnM() - check.measuredM(), within(1e-9));
  }

  @Test
  void withoutControlPointsThereIsOnlyTheWhole() {
    LineCheck check = LineCheck.of(course(1001, List.of()));
    assertThat(check.stretches()).isEmpty();
    assertThat(check.apartPercent()).isCloseTo(-0.0999, within(0.001));
  }

  @Test
  void marksOutOfOrderOrBeyondTheEndSayNothing() {
    LineCheck check =
        LineCheck.of(
            course(1000, List.of(control(300, 300), control(900, 1400), control(400, 300))));
    assertThat(check.stretches()).hasSize(2);
  }
}
