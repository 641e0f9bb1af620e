package milewarden.format.fixes;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.dataformat.csv.CsvFactory;
import com.fasterxml.jackson.dataformat.csv.CsvParser;
import com.fasterxml.jackson.dataformat.csv.CsvSchema;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The cells of a comma-separated text (RFC 4180), whatever separator and encoding a spreadsheet
 * gave it.
 *
 * @param separator comma, semicolon or tab
 * @param lines rows with at least one filled cell
 * @param brokenAt the line from which on nothing could be read, where a quote is never closed
 */
public record SheetText(char separator, List<Line> lines, Optional<Integer> brokenAt) {
  private static final CsvFactory CSV = new CsvFactory();

  /** A row's cells without blanks around them, and the line of the file that it begins on. */
  public record Line(int number, List<String> cells) {}

  /** The text of the bytes; empty where they are no text. */
  public static Optional<String> decode(byte[] bytes) {
    Optional<String> text = Optional.empty();
    if (startsWith(bytes, 0xFE, 0xFF)) text = strictly(bytes, 2, StandardCharsets.UTF_16BE);
    else if (startsWith(bytes, 0xFF, 0xFE)) text = strictly(bytes, 2, StandardCharsets.UTF_16LE);
    else {
      int bom = startsWith(bytes, 0xEF, 0xBB, 0xBF) ? 3 : 0;
      text = strictly(bytes, bom, StandardCharsets.UTF_8);
      // What is no UTF-8 was written by a spreadsheet in its old one-byte encoding.
      if (text.isEmpty()) text = strictly(bytes, bom, Charset.forName("windows-1252"));
    }
    return text.filter(t -> t.indexOf('\0') < 0);
  }

  private static boolean startsWith(byte[] bytes, int... wanted) {
    if (bytes.length < wanted.length) return false;
    for (int i = 0; i < wanted.length; i++) if ((bytes[i] & 0xff) != wanted[i]) return false;
    return true;
  }

  private static Optional<String> strictly(byte[] bytes, int from, Charset charset) {
    try {
      ByteBuffer rest = ByteBuffer.wrap(bytes, from, bytes.length - from);
      return Optional.of(charset.newDecoder().decode(rest).toString());
    } catch (CharacterCodingException e) {
      return Optional.empty();
    }
  }

  public static SheetText of(String text) {
    char separator = separator(text);
    List<Line> lines = new ArrayList<>();
    Optional<Integer> broken = Optional.empty();
    try (CsvParser parser = CSV.createParser(text)) {
      parser.enable(CsvParser.Feature.WRAP_AS_ARRAY);
      parser.enable(CsvParser.Feature.TRIM_SPACES);
      parser.setSchema(CsvSchema.emptySchema().withColumnSeparator(separator));
      read(parser, lines);
    } catch (JsonProcessingException e) {
      int last = lines.isEmpty() ? 0 : lines.get(lines.size() - 1).number;
      broken = Optional.of(last + 1);
    } catch (IOException e) {
      throw new UncheckedIOException("a text in memory", e);
    }
    return new SheetText(separator, lines, broken);
  }

  private static void read(CsvParser parser, List<Line> lines) throws IOException {
    List<String> cells = new ArrayList<>();
    int number = 0;
    int depth = 0;
    for (JsonToken t = parser.nextToken(); t != null; t = parser.nextToken()) {
      if (t == JsonToken.START_ARRAY) {
        depth++;
        cells.clear();
      } else if (t == JsonToken.END_ARRAY) {
        if (depth-- == 2 && cells.stream().anyMatch(c -> !c.isEmpty()))
          lines.add(new Line(number, List.copyOf(cells)));
      } else {
        if (cells.isEmpty()) number = parser.currentTokenLocation().getLineNr();
        cells.add(parser.getText().strip());
      }
    }
  }

  /** The separator that the first filled line has most of, outside of quotes. */
  private static char separator(String text) {
    String line = text.lines().filter(l -> !l.isBlank()).findFirst().orElse("");
    char best = ',';
    int most = 0;
    for (char candidate : new char[] {',', ';', '\t'}) {
      int count = 0;
      boolean quoted = false;
      for (int i = 0; i < line.length(); i++) {
        if (line.charAt(i) == '"') quoted = !quoted;
        else if (!quoted && line.charAt(i) == candidate) count++;
      }
      if (count > most) {
        most = count;
        best = candidate;
      }
    }
    return best;
  }
}
