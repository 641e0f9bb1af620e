package milewarden.app;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.encoder.JsonEncoder;
import ch.qos.logback.classic.spi.Configurator;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.ConsoleAppender;
import ch.qos.logback.core.encoder.Encoder;
import ch.qos.logback.core.joran.spi.ConsoleTarget;
import ch.qos.logback.core.spi.ContextAwareBase;
import java.util.Objects;

/**
 * Sets up the log, in code: as a file of the logging library's own it took as long as the rest of a
 * short command. A file named by {@code -Dlogback.configurationFile} holds instead, and the tests'.
 */
public final class LogSetUp extends ContextAwareBase implements Configurator {
  /** {@code json} gives one JSON object a line, for collectors of logs. */
  private static final String FORM = "MILEWARDEN_LOG";

  static final String APPENDER = "stderr";

  @Override
  public ExecutionStatus configure(LoggerContext context) {
    if (System.getProperty("logback.configurationFile") != null
        || LogSetUp.class.getResource("/logback-test.xml") != null)
      return ExecutionStatus.INVOKE_NEXT_IF_ANY;
    setUp(context, Objects.requireNonNullElse(System.getenv(FORM), ""));
    return ExecutionStatus.DO_NOT_INVOKE_NEXT_IF_ANY;
  }

  static void setUp(LoggerContext context, String form) {
    ConsoleAppender<ILoggingEvent> appender = new ConsoleAppender<>();
    appender.setName(APPENDER);
    appender.setContext(context);
    appender.setTarget(ConsoleTarget.SystemErr.getName());
    Encoder<ILoggingEvent> encoder = form.equals("json") ? json() : new LogLine();
    encoder.setContext(context);
    encoder.start();
    appender.setEncoder(encoder);
    appender.start();
    var root = context.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
    root.setLevel(Level.WARN);
    root.addAppender(appender);
    context.getLogger("milewarden").setLevel(Level.INFO);
  }

  private static Encoder<ILoggingEvent> json() {
    JsonEncoder encoder = new JsonEncoder();
    encoder.setWithSequenceNumber(false);
    encoder.setWithContext(false);
    encoder.setWithThreadName(false);
    encoder.setWithFormattedMessage(true);
    encoder.setWithMessage(false);
    encoder.setWithArguments(false);
    return encoder;
  }
}
