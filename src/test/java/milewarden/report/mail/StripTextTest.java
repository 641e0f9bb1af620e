package milewarden.report.mail;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

final class StripTextTest {
  @Test
  void theIntervalTheMeanAndTheLimitStandWhereTheyBelong() {
    assertThat(StripText.of(-0.4, 0, 0.4, 0.6, 1))
        .isEqualTo("   -1 ......|..[=====+=====]..|...... +1");
  }

  @Test
  void whatLiesBeyondTheScaleEndsInAnArrow() {
    assertThat(StripText.of(0.8, 1.2, 1.6, 0.5, 1)).endsWith("[==+ +1");
    assertThat(StripText.of(0.2, 0.8, 1.6, 0.5, 1)).endsWith("==+==> +1");
  }

  @Test
  void theScaleIsTheNextOfOneTwoFive() {
    assertThat(StripText.scale(List.of(0.3, -0.9))).isEqualTo(1);
    assertThat(StripText.scale(List.of(-1.1))).isEqualTo(2);
    assertThat(StripText.scale(List.of(2.0))).isEqualTo(2);
    assertThat(StripText.scale(List.of(4.9))).isEqualTo(5);
    assertThat(StripText.scale(List.of(12.0))).isEqualTo(20);
    assertThat(StripText.scale(List.of())).isEqualTo(1);
  }
}
