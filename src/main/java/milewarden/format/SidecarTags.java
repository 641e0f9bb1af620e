package milewarden.format;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import milewarden.format.fixes.IssueLog;
import milewarden.track.SheetProblem;
import milewarden.track.SheetProblem.Kind;
import milewarden.track.SheetRead;

/**
 * A file of tags beside one track, {@code <file name>.tags.yaml}: {@code name: value}, where the
 * names are the field sheet's columns. A list gives one value for each pass, in order. Numbers keep
 * the decimals that were written.
 *
 * <p>It is read as the field sheet of that one track, by the same rules.
 */
public final class SidecarTags {
  /** Our own bound: a few dozen short lines. */
  private static final int LARGEST = 64 << 10;

  private SidecarTags() {}

  /**
   * Its rows: one, or one for each pass; the row's number is that of the pass and a heading's 1.
   *
   * @param track the name of the track that it stands beside
   */
  public static SheetRead read(byte[] bytes, String track) {
    if (bytes.length > LARGEST) return refused(Kind.TOO_LARGE, bytes.length + " bytes");
    Map<String, List<String>> columns = new LinkedHashMap<>();
    try (JsonParser yaml = new YAMLFactory().createParser(bytes)) {
      if (yaml.nextToken() != JsonToken.START_OBJECT)
        return refused(Kind.NO_TAGS, "no lines of the form name: value");
      while (yaml.nextToken() == JsonToken.FIELD_NAME) {
        String name = yaml.currentName();
        columns.put(name, values(yaml));
      }
    } catch (JsonProcessingException e) {
      return refused(Kind.NO_TAGS, IssueLog.shortened(e.getOriginalMessage()));
    } catch (IOException e) {
      // Bytes in memory fail nobody.
      throw new UncheckedIOException(e);
    }
    return SessionSheet.read(sheet(columns, track).getBytes(StandardCharsets.UTF_8));
  }

  private static SheetRead refused(Kind kind, String detail) {
    return new SheetRead.Refused(new SheetProblem(kind, 0, Optional.empty(), detail));
  }

  /** One value, or one for each pass; of anything deeper the text stays empty. */
  private static List<String> values(JsonParser yaml) throws IOException {
    JsonToken token = yaml.nextToken();
    if (token == JsonToken.START_ARRAY) {
      List<String> each = new ArrayList<>();
      while (yaml.nextToken() != JsonToken.END_ARRAY) each.add(text(yaml));
      return each;
    }
    return List.of(text(yaml));
  }

  private static String text(JsonParser yaml) throws IOException {
    boolean scalar = yaml.currentToken().isScalarValue();
    boolean empty = yaml.currentToken() == JsonToken.VALUE_NULL;
    String text = scalar && !empty ? yaml.getText() : "";
    yaml.skipChildren();
    return text;
  }

  private static String sheet(Map<String, List<String>> columns, String track) {
    int passes = columns.values().stream().mapToInt(List::size).max().orElse(1);
    List<List<String>> rows = new ArrayList<>();
    List<String> headings = new ArrayList<>(List.of("file"));
    columns.keySet().stream().filter(n -> !n.equalsIgnoreCase("file")).forEach(headings::add);
    rows.add(headings);
    for (int pass = 0; pass < Math.max(1, passes); pass++) {
      List<String> row = new ArrayList<>(List.of(track));
      for (String name : headings.subList(1, headings.size())) {
        List<String> values = columns.getOrDefault(name, List.of());
        // A single value is that of every pass.
        int at = values.size() == 1 ? 0 : pass;
        row.add(at < values.size() ? values.get(at) : "");
      }
      rows.add(row);
    }
    return rows.stream()
        .map(r -> r.stream().map(SidecarTags::quoted).collect(Collectors.joining(",")))
        .collect(Collectors.joining("\n", "", "\n"));
  }

  private static String quoted(String cell) {
    return '"' + cell.replace("\"", "\"\"") + '"';
  }
}
