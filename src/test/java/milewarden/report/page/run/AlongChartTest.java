package milewarden.report.page.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.PassMeasurement;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Position;
import milewarden.report.Digits;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.units.UnitChoice;
import org.junit.jupiter.api.Test;

/** Offset and speed along a pass, as the page sends them to its charts. */
final class AlongChartTest {
  private static final Digits DIGITS = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);

  /** A walk of three quarters of an hour. */
  private static PassMeasurement walked() {
    ReferenceCourse course =
        InventedCourse.straight("straight", new Position(46.5, -31.5), 40, 4000);
    return Measurer.measure(
            TrackSimulator.simulate(
                    Walk.of(course), Receiver.PERFECT.withNoise(1, 10, 0), Sky.CLEAR, 3)
                .track(),
            course,
            MeasureOptions.NONE.withBounds(Bounds.MARKS))
        .passes()
        .get(0);
  }

  @Test
  void everyPlaceHasItsValueAndItsWords() {
    PassMeasurement pass = walked();
    AlongChart.Places places = AlongChart.places(pass, DIGITS);
    AlongChart.Line offset = AlongChart.offset(pass, List.of(), DIGITS).lines().get(0);
    PassMeasurement.Profile profile = pass.profile();
    assertThat(places.chainageM()).hasSameSizeAs(profile.chainageM()).hasSizeGreaterThan(600);
    assertThat(places.words()).hasSameSizeAs(places.chainageM());
    assertThat(offset.without()).isEmpty();
    assertThat(offset.words()).hasSameSizeAs(offset.value()).hasSameSizeAs(places.words());
    for (int i = 0; i < offset.value().size(); i++) {
      // Half of a thousandth: what rounding to it can move.
      assertThat(places.chainageM().get(i))
          .isCloseTo(profile.chainageM().get(i), within(0.0005 + 1e-12));
      assertThat(offset.value().get(i)).isCloseTo(profile.offsetM().get(i), within(0.0005 + 1e-12));
      assertThat(places.words().get(i))
          .isEqualTo("at " + DIGITS.ground(profile.chainageM().get(i)));
      assertThat(offset.words().get(i)).isEqualTo(DIGITS.change(profile.offsetM().get(i)));
    }
  }

  @Test
  void aPlaceWithoutASpeedIsLeftOutOfItsLineAlone() {
    PassMeasurement pass = walked();
    AlongChart.Line speed = AlongChart.speed(pass, List.of(), DIGITS).lines().get(0);
    List<Double> all = pass.profile().speedMps();
    assertThat(speed.words()).hasSameSizeAs(speed.value());
    assertThat(speed.value().size() + speed.without().size()).isEqualTo(all.size());
    assertThat(speed.without()).allMatch(i -> !Double.isFinite(all.get(i)));
  }

  @Test
  void noNameIsSentAgainForEveryPlace() throws Exception {
    String sent =
        new ObjectMapper()
            .writeValueAsString(
                List.of(
                    AlongChart.places(walked(), DIGITS),
                    AlongChart.offset(walked(), List.of(), DIGITS),
                    AlongChart.speed(walked(), List.of(), DIGITS)));
    // No mark stands on this course: the places alone have chainages.
    assertThat(sent.split("\"chainageM\"", -1)).hasSize(2);
    assertThat(sent.split("at ", -1)).hasSize(walked().profile().chainageM().size() + 1);
    assertThat(sent.split("\"words\"", -1)).hasSize(4);
  }
}
