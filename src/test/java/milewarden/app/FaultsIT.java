package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The quick form of the proof that nothing is lost; the long one is a command. */
final class FaultsIT {
  @TempDir Path folder;

  @ParameterizedTest
  @ValueSource(longs = 5)
  void nothingIsLostOrDoubledWhateverFails(long seed) throws Exception {
    Faults.Report report = Faults.run(seed, 140, 2, folder, false);
    assertThat(report.missed()).as(report.toString()).isEmpty();
    assertThat(report.losses()).as(report.toString()).isEmpty();
    assertThat(report.messages()).isPositive();
  }
}
