package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

final class StoreRehearsalTest {
  @Test
  void anAnswerComesBackAndNothingIsKept() {
    assertThat(StoreRehearsal.run()).isEqualTo(1);
    assertThat(StoreRehearsal.run()).isEqualTo(1);
  }
}
