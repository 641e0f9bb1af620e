package milewarden.simulator.campaign;

import static org.assertj.core.api.Assertions.assertThat;

import milewarden.course.ReferenceCourse;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.units.LengthUnit;
import org.junit.jupiter.api.Test;

final class DisplayTest {
  @Test
  void aDisplayCutsOffOrRounds() {
    // Common practice, no source: a quarter mile is 402.336 m; 0.27 mi is 434.52 m.
    Display cut = new Display(LengthUnit.MILE, 0.01, Rounding.TRUNCATED, true);
    Display round = new Display(LengthUnit.MILE, 0.01, Rounding.ROUNDED, true);
    assertThat(cut.show(440.0).value()).isEqualTo(0.27);
    assertThat(round.show(443.0).value()).isEqualTo(0.28);
    assertThat(cut.show(402.336).value()).isEqualTo(0.25);
    assertThat(cut.show(402.3).value()).isEqualTo(0.24);
  }

  @Test
  void aTesterWhoDoesNotKnowTheRuleSaysSo() {
    Display display = new Display(LengthUnit.KILOMETRE, 0.001, Rounding.TRUNCATED, false);
    assertThat(display.show(1234.9))
        .isEqualTo(new Reading(1.234, LengthUnit.KILOMETRE, 0.001, Rounding.UNKNOWN));
  }

  @Test
  void aDisplayThatKeepsMilesShowsThemInKilometres() {
    // By hand: 1000 m are 0.62137 mi. Cut off 0.62 mi = 0.99779 km: 0.99. Rounded 0.62 mi: 1.00.
    Display cut = new Display(LengthUnit.KILOMETRE, 0.01, Rounding.TRUNCATED, true);
    Display round = new Display(LengthUnit.KILOMETRE, 0.01, Rounding.ROUNDED, true);
    assertThat(cut.show(1000).value()).isEqualTo(1.00);
    assertThat(cut.withMilesFirst().show(1000).value()).isEqualTo(0.99);
    assertThat(round.withMilesFirst().show(1000).value()).isEqualTo(1.00);
    assertThat(round.show(990).value()).isEqualTo(0.99);
    // 990 m are 0.61516 mi: rounded 0.62 mi = 0.99779 km: 1.00.
    assertThat(round.withMilesFirst().show(990).value()).isEqualTo(1.00);
  }

  @Test
  void aLateDisplayShowsItsLatestRenewal() {
    ReferenceCourse course =
        InventedCourse.straight("straight", new Position(46.5, -31.5), 0, 1000);
    SimulatedTrack made = TrackSimulator.simulate(Walk.of(course), Receiver.PERFECT, Sky.CLEAR, 1);
    Display display = new Display(LengthUnit.METRE, 1, Rounding.TRUNCATED, true);
    // 1.4 m/s: 141.4 m after 101 s; 138.6 m after 99 s, the third renewal.
    assertThat(display.show(made, 101.5).value()).isEqualTo(141);
    assertThat(display.withRefresh(33).show(made, 101.5).value()).isEqualTo(138);
  }
}
