package milewarden.simulator;

import static org.assertj.core.api.Assertions.assertThat;

import milewarden.device.Reading;
import milewarden.device.Rounding;
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
}
