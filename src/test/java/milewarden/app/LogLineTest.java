package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.encoder.PatternLayoutEncoder;
import ch.qos.logback.classic.spi.LoggingEvent;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** Held against the logging library's own layout of the same pattern. */
final class LogLineTest {
  private static final String PATTERN =
      "%d{yyyy-MM-dd HH:mm:ss} %-5level %logger{0}:"
          + " %replace(%msg){'[\\p{Cc}\\p{Cf}\\p{Zl}\\p{Zp}]',' '}%n"
          + "%replace(%replace(%ex{full}){'\\r?\\n(?!\\t|Caused by: |$)',' '})"
          + "{'[\\p{Cc}\\p{Cf}\\p{Zl}\\p{Zp}&&[^\\n\\t]]',' '}";

  private final LoggerContext context = new LoggerContext();
  private final PatternLayoutEncoder library = new PatternLayoutEncoder();

  LogLineTest() {
    library.setContext(context);
    library.setPattern(PATTERN);
    library.start();
  }

  @Test
  void aLineIsWhatTheLibraryWouldWrite() {
    same("milewarden.intake.Inbox", Level.INFO, "took {} in", null, "run.gpx");
    same("plain", Level.ERROR, "no argument", null);
    same("a.b.C", Level.WARN, "", null);
    same("a.b.C", Level.DEBUG, "grüße 😀", null);
  }

  @Test
  void aFailureFollowsWithItsCauses() {
    IllegalStateException cause = new IllegalStateException("the cause");
    RuntimeException failure = new RuntimeException("failed\nbadly", cause);
    failure.addSuppressed(new IllegalArgumentException("beside it"));
    same("milewarden.web.Guard", Level.ERROR, "GET / failed", failure);
  }

  @Test
  void aNameCanNeitherEndTheLineNorTurnIt() {
    same("a.B", Level.WARN, "{}", null, "x\r\n2026 ERROR forged\u202egpx.exe\u200b\u00ad\u2028end");
    assertThat(ours(event("a.B", Level.WARN, "x\ny\u202ez", null)))
        .endsWith("B: x y z" + System.lineSeparator());
  }

  private void same(
      String logger, Level level, String message, Throwable failure, Object... arguments) {
    LoggingEvent event = event(logger, level, message, failure, arguments);
    assertThat(ours(event)).isEqualTo(new String(library.encode(event), StandardCharsets.UTF_8));
  }

  private LoggingEvent event(
      String logger, Level level, String message, Throwable failure, Object... arguments) {
    return new LoggingEvent("", context.getLogger(logger), level, message, failure, arguments);
  }

  private static String ours(LoggingEvent event) {
    return new String(new LogLine().encode(event), StandardCharsets.UTF_8);
  }
}
