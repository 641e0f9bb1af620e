package milewarden.benchmark;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.PassMeasurement;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.track.Track;
import milewarden.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** What is timed as the same job is the same job: its errors are those of the whole engine. */
final class SameJobTest {
  @Test
  void theErrorsAreThoseOfTheWholeEngine() {
    Reading shown = new Reading(10.01, LengthUnit.KILOMETRE, 0.01, Rounding.TRUNCATED);
    for (Hour hour : new Hour[] {Hour.LOOP_MIN, Hour.OUT_BACK_MIN}) {
      double sum = 0;
      Track track = PipelineBenchmark.read(hour.gpx);
      for (PassMeasurement pass :
          Measurer.measure(track, hour.course, MeasureOptions.NONE).passes()) {
        double r = pass.distances().referenceM();
        sum += pass.errors().trackPercent().orElseThrow() + 100 * (10_010 - r) / r;
      }
      // Some thousand roundings of a way of 10 km, in percent of it.
      assertThat(SameJob.of(track, hour.course, shown))
          .as(hour.name())
          .isCloseTo(sum, within(1e-8));
    }
  }
}
