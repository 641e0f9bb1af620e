package milewarden.app;

import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.IThrowableProxy;
import ch.qos.logback.classic.spi.ThrowableProxyUtil;
import ch.qos.logback.core.encoder.EncoderBase;
import java.nio.charset.StandardCharsets;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.regex.Pattern;

/** An event as a line of text: when, how bad, from where, what; then the failure behind it. */
final class LogLine extends EncoderBase<ILoggingEvent> {
  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss", Locale.ROOT);
  // As wide as WARN and ERROR.
  private static final int LEVEL_WIDTH = 5;
  private static final byte[] NONE = {};

  @Override
  public byte[] headerBytes() {
    return NONE;
  }

  @Override
  public byte[] encode(ILoggingEvent event) {
    StringBuilder line = new StringBuilder(200);
    TIME.formatTo(event.getInstant().atZone(ZoneId.systemDefault()), line);
    int level = line.append(' ').length();
    line.append(event.getLevel());
    while (line.length() < level + LEVEL_WIDTH) line.append(' ');
    String name = event.getLoggerName();
    line.append(' ').append(name, name.lastIndexOf('.') + 1, name.length()).append(": ");
    String message = event.getFormattedMessage();
    if (message != null) oneLine(message, line);
    line.append(System.lineSeparator());
    IThrowableProxy failure = event.getThrowableProxy();
    if (failure != null) line.append(Trace.of(failure));
    return line.toString().getBytes(StandardCharsets.UTF_8);
  }

  /**
   * What would end the line, turn its direction or steer a terminal is a space: a file's name may
   * hold anything.
   */
  private static void oneLine(String message, StringBuilder line) {
    message
        .codePoints()
        .map(
            c ->
                switch (Character.getType(c)) {
                  case Character.CONTROL,
                      Character.FORMAT,
                      Character.LINE_SEPARATOR,
                      Character.PARAGRAPH_SEPARATOR ->
                      ' ';
                  default -> c;
                })
        .forEach(line::appendCodePoint);
  }

  /**
   * A failure's trace. Nothing in it that came from outside begins a line: only lines of the trace
   * do, which begin with a tab or say what caused it.
   */
  private static final class Trace {
    private static final Pattern OTHER_LINE = Pattern.compile("\\r?\\n(?!\\t|Caused by: |$)");
    private static final Pattern STEERING =
        Pattern.compile("[\\p{Cc}\\p{Cf}\\p{Zl}\\p{Zp}&&[^\\n\\t]]");

    static String of(IThrowableProxy failure) {
      String text = ThrowableProxyUtil.asString(failure);
      return STEERING.matcher(OTHER_LINE.matcher(text).replaceAll(" ")).replaceAll(" ");
    }
  }

  @Override
  public byte[] footerBytes() {
    return NONE;
  }
}
