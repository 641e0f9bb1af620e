package milewarden.alert;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class RetryingTest {
  @TempDir Path data;

  @Test
  void thePauseDoublesUpToTheLongest() {
    try (Database database =
        Database.open(StoreSettings.in(data), InstantSource.fixed(Instant.EPOCH))) {
      Retrying retrying = new Retrying(database, Duration.ofMinutes(1), Duration.ofHours(1));
      assertThat(retrying.pause(0)).isEqualTo(Duration.ofMinutes(1));
      assertThat(retrying.pause(3)).isEqualTo(Duration.ofMinutes(8));
      assertThat(retrying.pause(6)).isEqualTo(Duration.ofHours(1));
      assertThat(retrying.pause(1_000_000)).isEqualTo(Duration.ofHours(1));
    }
  }
}
