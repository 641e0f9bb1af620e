package milewarden.report.page.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.OptionalDouble;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.TrackMeasurement;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** What a run's page says first, where the display can judge the pass and where it can't. */
final class LeadingErrorTest {
  private static final Position HERE = new Position(46.5, -31.5);

  /** A hundredth of a kilometre of a course of so many metres, whose display says 20 m too much. */
  private static LeadingError on(double lengthM) {
    ReferenceCourse course = InventedCourse.straight("straight", HERE, 40, lengthM);
    TrackMeasurement m =
        Measurer.measure(
            TrackSimulator.simulate(
                    Walk.of(course), Receiver.PERFECT.withNoise(1, 10, 0), Sky.CLEAR, 3)
                .track(),
            course,
            MeasureOptions.NONE
                .withBounds(Bounds.MARKS)
                .withShown(
                    new Reading(
                        (lengthM + 20) / 1000, LengthUnit.KILOMETRE, 0.01, Rounding.TRUNCATED)));
    PassMeasurement pass = m.passes().get(0);
    LeadingError lead = LeadingError.of(pass, m.findings());
    OptionalDouble finer = pass.errors().recordedPercent();
    if (finer.isEmpty()) finer = pass.errors().trackPercent();
    if (lead.asRead().isEmpty())
      assertThat(lead.range().orElseThrow().middle()).isCloseTo(finer.orElseThrow(), within(1e-12));
    return lead;
  }

  @Test
  void aDisplayThatResolvesThePassLeads() {
    // 10 m are 0.25 % of 4 km: below half a percent, a quarter of the loosest limit (ENGINE 5).
    LeadingError lead = on(4000);
    assertThat(lead.asRead().orElseThrow()).isCloseTo(0.5, within(1e-9));
    assertThat(lead.words()).isEqualTo("error of the distance shown, as read");
  }

  @Test
  void aDisplayTooCoarseForThePassGivesWayToWhatIsFinerAndItIsSaid() {
    // 10 m are 2.5 % of 400 m.
    LeadingError lead = on(400);
    assertThat(lead.asRead()).isEmpty();
    assertThat(lead.words()).contains("too coarse to judge this pass by").doesNotContain("shown");
  }
}
