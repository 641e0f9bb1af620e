package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.LoggingEvent;
import ch.qos.logback.classic.util.LogbackMDCAdapter;
import ch.qos.logback.core.ConsoleAppender;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The log as the program itself lays it out, fed with what a hostile name could hold. */
final class LogLayoutTest {
  // CWE-117: a name that pretends to be the next line, one that colours a terminal (ECMA-48's
  // escape), and the other characters that end a line (Unicode Standard Annex 14, class BK and NL).
  private static final String EVIL =
      "a.gpx\r\n2026-05-12 07:00:00 ERROR Fake: all is lost\u001b[31m\u0085b\u2028c\u2029\u202ed\u000be\u0000";

  private static byte[] written(String layout, String words, Throwable thrown) throws Exception {
    LoggerContext context = new LoggerContext();
    context.setMDCAdapter(new LogbackMDCAdapter());
    LogSetUp.setUp(context, layout);
    Logger root = context.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
    ConsoleAppender<ILoggingEvent> appender =
        (ConsoleAppender<ILoggingEvent>) root.getAppender(LogSetUp.APPENDER);
    assertThat(context.getLogger("milewarden").isInfoEnabled()).isTrue();
    LoggingEvent event =
        new LoggingEvent(
            "x",
            context.getLogger("milewarden.A"),
            Level.ERROR,
            words + " {}",
            thrown,
            new Object[] {EVIL});
    try {
      return appender.getEncoder().encode(event);
    } finally {
      context.stop();
    }
  }

  @Test
  void whatComesFromOutsideBeginsNoLineAndSteersNoTerminal() throws Exception {
    Exception cause = new IOException(EVIL, new IllegalStateException("third " + EVIL));
    cause.addSuppressed(new IOException("beside " + EVIL));
    String text =
        new String(
            written("text", "refused", new IllegalStateException(EVIL, cause)),
            StandardCharsets.UTF_8);
    List<String> lines = text.lines().toList();
    assertThat(lines.get(0))
        .matches("\\d{4}-\\d\\d-\\d\\d \\d\\d:\\d\\d:\\d\\d ERROR A: refused a\\.gpx .*")
        .contains("all is lost");
    assertThat(lines.subList(1, lines.size()))
        .hasSizeGreaterThan(10)
        .noneMatch(l -> l.matches("\\d{4}-.*"))
        .anyMatch(l -> l.startsWith("Caused by: java.io.IOException"))
        .anyMatch(l -> l.startsWith("Caused by: java.lang.IllegalStateException: third"))
        .anyMatch(l -> l.contains("Suppressed: java.io.IOException: beside"));
    assertThat(lines.get(1)).startsWith("java.lang.IllegalStateException: a.gpx");
    assertThat(text.replace("\n", "").replace("\t", ""))
        .doesNotContainPattern("[\\p{Cc}\\p{Zl}\\p{Zp}\\p{Cf}]");
    assertThat(text).endsWith("\n");
  }

  @Test
  void aMessageWithoutAFailureIsOneLine() throws Exception {
    String text = new String(written("text", "refused", null), StandardCharsets.UTF_8);
    assertThat(text.lines()).hasSize(1);
  }

  @Test
  void forCollectorsAnEventIsOneObjectOnOneLine() throws Exception {
    String text =
        new String(
            written("json", "refused", new IllegalStateException(EVIL)), StandardCharsets.UTF_8);
    assertThat(text.lines()).hasSize(1);
    JsonNode event = new ObjectMapper().readTree(text);
    assertThat(event.get("level").asText()).isEqualTo("ERROR");
    assertThat(event.get("formattedMessage").asText()).isEqualTo("refused " + EVIL);
    assertThat(event.get("throwable").get("message").asText()).isEqualTo(EVIL);
  }
}
