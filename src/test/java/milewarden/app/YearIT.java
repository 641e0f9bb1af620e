package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The quick form of a year of a small lab; the long one is a command. */
final class YearIT {
  @TempDir Path folder;

  /** With a heap of 256 MB, 50 requests a second are answered while it measures and judges. */
  @Test
  void pagesAreServedWhileABatchIsTakenInWithLittleMemory() throws Exception {
    int files = 250;
    YearOfALab.Report report = YearOfALab.run(folder, files, "-Xmx256m", 50);
    assertThat(report.runs()).as(report.toString()).isEqualTo(files);
    assertThat(report.failed()).as(report.toString()).isZero();
    assertThat(report.served()).as(report.toString()).isPositive();
  }
}
