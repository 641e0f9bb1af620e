package milewarden.format.fixes;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * The first bytes of a file, by which its format is known.
 *
 * @param bytes what the parser is to read first: blanks before the first sign are taken off, which
 *     XML forbids and writers do
 * @param linesBefore line breaks among those blanks
 */
@SuppressWarnings("ArrayRecordComponent") // package-private, passed on once
public record FileHead(byte[] bytes, int linesBefore) {
  private static final int LENGTH = 1024;

  public static FileHead of(InputStream in) throws IOException {
    byte[] read = in.readNBytes(LENGTH);
    int bom = startsWith(read, 0xEF, 0xBB, 0xBF) ? 3 : 0;
    int at = bom;
    int lines = 0;
    while (at < read.length && isBlank(read[at])) if (read[at++] == '\n') lines++;
    // A byte order mark goes too where blanks followed it: UTF-8 is what a parser assumes anyhow.
    if (at == bom) return new FileHead(read, 0);
    return new FileHead(Arrays.copyOfRange(read, at, read.length), lines);
  }

  private static boolean isBlank(byte b) {
    return b == ' ' || b == '\n' || b == '\r' || b == '\t';
  }

  private static boolean startsWith(byte[] bytes, int... wanted) {
    if (bytes.length < wanted.length) return false;
    for (int i = 0; i < wanted.length; i++) if ((bytes[i] & 0xff) != wanted[i]) return false;
    return true;
  }

  /** UTF-16 where a mark of byte order says so, else UTF-8. */
  public Charset encoding() {
    if (startsWith(bytes, 0xFE, 0xFF)) return StandardCharsets.UTF_16BE;
    if (startsWith(bytes, 0xFF, 0xFE)) return StandardCharsets.UTF_16LE;
    return StandardCharsets.UTF_8;
  }

  /** The bytes without a mark of byte order. */
  public byte[] withoutMark() {
    int mark =
        startsWith(bytes, 0xEF, 0xBB, 0xBF) ? 3 : encoding() != StandardCharsets.UTF_8 ? 2 : 0;
    return mark == 0 ? bytes : Arrays.copyOfRange(bytes, mark, bytes.length);
  }

  /** The first bytes as text. */
  public String text() {
    return new String(withoutMark(), encoding());
  }

  public boolean isEmpty() {
    return bytes.length == 0;
  }

  /** Whether these bytes stand at that place. */
  public boolean holds(byte[] wanted, int at) {
    return bytes.length >= at + wanted.length
        && Arrays.equals(bytes, at, at + wanted.length, wanted, 0, wanted.length);
  }

  /** Markup, in any encoding that begins with a byte order mark, two-byte units or ASCII. */
  public boolean looksLikeXml() {
    byte[] text = withoutMark();
    int at = 0;
    while (at < text.length && (text[at] == 0 || isBlank(text[at]))) at++;
    return at < text.length && text[at] == '<';
  }

  /** What stands there, for people: at most 24 signs, others than ASCII as dots. */
  public String shown() {
    String text = new String(bytes, 0, Math.min(24, bytes.length), StandardCharsets.ISO_8859_1);
    return text.replaceAll("[^ -~]", ".");
  }
}
