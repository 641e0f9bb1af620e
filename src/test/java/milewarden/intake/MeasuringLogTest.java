package milewarden.intake;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slf4j.LoggerFactory;

/** The log tells in a line what became of the files that came in. */
final class MeasuringLogTest {
  @TempDir Path data;
  private final Logger logger = (Logger) LoggerFactory.getLogger(Measuring.class);
  private final ListAppender<ILoggingEvent> logged = new ListAppender<>();

  @BeforeEach
  void listen() {
    logged.start();
    logger.setLevel(Level.INFO);
    logger.addAppender(logged);
  }

  @AfterEach
  void leave() {
    logger.detachAppender(logged);
    logger.setLevel(null);
  }

  private List<String> lines() {
    return logged.list.stream().map(ILoggingEvent::getFormattedMessage).toList();
  }

  @Test
  void oneLineCountsWhatWasMeasuredWhatWaitsAndWhatIsRefused() {
    try (Tester tester = new Tester(data, Tester.HANDS)) {
      tester.course(Tester.PIER);
      for (int day = 10; day < 13; day++)
        tester.receive(
            "K1/1.0/d" + day + ".gpx",
            Tester.walk(Tester.PIER, "2026-05-" + day + "T08:00:00Z", day));
      // No folder says of which device and firmware it is.
      tester.receive("loose.gpx", Tester.walk(Tester.PIER, "2026-05-09T08:00:00Z", 9));
      tester.receive("K1/1.0/bad.gpx", "no recording");
      tester.measuring.workAndLog(() -> false);
      assertThat(lines())
          .containsExactly("took in 5 files in 0.0 s: 3 measured, 1 waiting, 1 refused");
      // A sweep that finds nothing says nothing.
      tester.measuring.workAndLog(() -> false);
      assertThat(lines()).hasSize(1);
    }
  }
}
