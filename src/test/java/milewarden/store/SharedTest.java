package milewarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.units.PercentRange;
import milewarden.verdict.Condition;
import org.junit.jupiter.api.Test;

final class SharedTest {
  private record One(
      Condition condition,
      List<String> units,
      Optional<PercentRange> range,
      Instant at,
      LocalDate day) {}

  private record Two(One first, One second) {}

  private static One one() {
    return new One(
        new Condition("loop", "v1", SkyView.OPEN, Carriage.FIXED, Gait.RUN, ""),
        List.of("unit-" + 1, "unit-" + 2),
        Optional.of(new PercentRange(-0.0, 0.5)),
        Instant.parse("2026-05-01T07:00:00Z"),
        LocalDate.parse("2026-05-01"));
  }

  @Test
  void whatIsEqualInATextIsOneObject() {
    Two read = Json.readShared(Json.write(new Two(one(), one())), Two.class);
    assertThat(read.second.condition).isSameAs(read.first.condition);
    assertThat(read.second.units.get(1)).isSameAs(read.first.units.get(1));
    assertThat(read.second.range.orElseThrow()).isSameAs(read.first.range.orElseThrow());
    assertThat(read.second.at).isSameAs(read.first.at);
    assertThat(read.second.day).isSameAs(read.first.day);
  }

  @Test
  void whatIsReadIsTheSameAsWithoutSharing() {
    Two written = new Two(one(), one());
    assertThat(Json.readShared(Json.write(written), Two.class)).isEqualTo(written);
    assertThat(Json.read(Json.write(written), Two.class)).isEqualTo(written);
  }
}
