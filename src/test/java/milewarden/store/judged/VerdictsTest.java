package milewarden.store.judged;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Optional;
import milewarden.store.Json;
import milewarden.verdict.Campaign;
import milewarden.verdict.PublishedVerdict;
import org.junit.jupiter.api.Test;

final class VerdictsTest {
  private static PublishedVerdict verdict() {
    Campaign c = new Campaign().release("1.0").sessions("1.0", 0, new double[] {0.3, 0.1, 0.2});
    return c.publish("1.0", Campaign.FIRST.plusDays(30)).verdicts.get(0).verdict();
  }

  @Test
  void aVerdictFromBeforePlansWereKeptWithItIsReadWithoutOne() {
    ObjectNode old = Json.tree(Json.write(verdict()));
    assertThat(old.has("plan")).isTrue();
    old.remove("plan");
    PublishedVerdict read = Json.read(Json.write(old), PublishedVerdict.class);
    assertThat(read.plan()).isEqualTo(Optional.empty());
    assertThat(read).isEqualTo(verdict());
  }
}
