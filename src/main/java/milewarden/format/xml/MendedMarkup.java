package milewarden.format.xml;

import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.Charset;

/**
 * The text of an XML file whose markup breaks a rule that does not matter for a recording: bytes
 * that are no text of the encoding become marks of replacement, control signs become blanks, and a
 * prefix is parted from its name by a point, so that it need not be declared.
 */
final class MendedMarkup extends Reader {
  /** Stands between a prefix and the local name. */
  static final char PARTED = '.';

  private enum In {
    TEXT,
    OPENED,
    TAG,
    SINGLE_QUOTES,
    DOUBLE_QUOTES,
    OTHER
  }

  private final Reader text;
  private In in = In.TEXT;

  MendedMarkup(InputStream bytes, Charset encoding) {
    text = new InputStreamReader(bytes, encoding);
  }

  @Override
  public int read(char[] buffer, int offset, int length) throws IOException {
    int n = text.read(buffer, offset, length);
    for (int i = offset; i < offset + n; i++) buffer[i] = mended(buffer[i]);
    return n;
  }

  private char mended(char c) {
    char sign = c < ' ' && c != '\n' && c != '\r' && c != '\t' || c >= '\uFFFE' ? ' ' : c;
    boolean parts = in == In.TAG && sign == ':';
    in = after(sign);
    return parts ? PARTED : sign;
  }

  private In after(char c) {
    return switch (in) {
      case TEXT -> c == '<' ? In.OPENED : In.TEXT;
      case OPENED -> c == '!' || c == '?' ? In.OTHER : In.TAG;
      case TAG ->
          switch (c) {
            case '>' -> In.TEXT;
            case '"' -> In.DOUBLE_QUOTES;
            case '\'' -> In.SINGLE_QUOTES;
            default -> In.TAG;
          };
      case DOUBLE_QUOTES -> c == '"' ? In.TAG : In.DOUBLE_QUOTES;
      case SINGLE_QUOTES -> c == '\'' ? In.TAG : In.SINGLE_QUOTES;
      // Comments, declarations and text that is marked as such: a tag inside is no tag, and to part
      // a name in it changes nothing that is read.
      case OTHER -> c == '>' ? In.TEXT : In.OTHER;
    };
  }

  @Override
  public void close() throws IOException {
    text.close();
  }
}
