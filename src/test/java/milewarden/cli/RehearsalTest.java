package milewarden.cli;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

final class RehearsalTest {
  @Test
  void theMinuteRoundTheSquareIsMeasured() {
    // Four sides of 60 m, by the course's own text; told to the decimetre.
    assertThat(Rehearsal.run().orElseThrow()).contains("239.7 m", "Pass 1");
  }
}
