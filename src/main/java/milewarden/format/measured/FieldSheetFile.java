package milewarden.format.measured;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.course.FieldSheetIssue;
import milewarden.course.FieldSheetIssue.Kind;
import milewarden.course.FieldSheetItems;
import milewarden.course.FieldSheetRead;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.SheetText;

/**
 * The field sheet of a course as a CSV file and as the property {@code field_sheet} of a course
 * file.
 *
 * <p>The CSV has a header, {@code item,value,start,end,turns,temperature_c,note} in any order, and
 * one row per item; {@code before}, {@code after}, {@code pass} and {@code other} may come again.
 * Comma, semicolon or tab part the cells, the comma of a number is read where it can't part
 * thousands.
 */
public final class FieldSheetFile {
  /** A sheet of more bytes is none: our own bound. */
  private static final int LARGEST = 1 << 20;

  private static final List<String> COLUMNS =
      List.of("item", "value", "start", "end", "turns", "temperature_c", "note");

  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

  private FieldSheetFile() {}

  /** Lines as they stand in a CSV file, or why it is none. */
  public record CsvLines(
      List<SheetLine> lines, boolean decimalComma, List<FieldSheetIssue> issues) {
    public CsvLines {
      lines = List.copyOf(lines);
      issues = List.copyOf(issues);
    }

    /** The sheet of these lines. */
    public FieldSheetRead read() {
      return SheetLines.read(lines, decimalComma, issues);
    }
  }

  /** Reads a CSV file to its lines. */
  public static CsvLines csv(byte[] bytes) {
    if (bytes.length > LARGEST) return refused(Kind.TOO_LARGE, bytes.length + " bytes");
    Optional<String> decoded = SheetText.decode(bytes);
    if (decoded.isEmpty()) return refused(Kind.NOT_TEXT, "");
    SheetText text = SheetText.of(decoded.get());
    if (text.lines().isEmpty()) return refused(Kind.EMPTY, "");
    List<String> head =
        text.lines().get(0).cells().stream().map(c -> c.toLowerCase(Locale.ROOT)).toList();
    if (!head.contains("item"))
      return refused(Kind.NO_HEADER, IssueLog.shortened(String.join(" ", head)));
    List<FieldSheetIssue> issues = new ArrayList<>();
    text.brokenAt()
        .ifPresent(at -> issues.add(new FieldSheetIssue(Kind.UNREADABLE, "line " + at, "")));
    List<SheetLine> lines =
        text.lines().subList(1, text.lines().size()).stream().map(l -> line(head, l)).toList();
    return new CsvLines(lines, text.separator() != ',', issues);
  }

  private static CsvLines refused(Kind kind, String detail) {
    return new CsvLines(List.of(), false, List.of(new FieldSheetIssue(kind, "", detail)));
  }

  private static SheetLine line(List<String> head, SheetText.Line line) {
    return new SheetLine(
        cell(head, line, "item"),
        cell(head, line, "value"),
        cell(head, line, "start"),
        cell(head, line, "end"),
        cell(head, line, "turns"),
        cell(head, line, "temperature_c"),
        cell(head, line, "note"),
        "line " + line.number());
  }

  private static String cell(List<String> head, SheetText.Line line, String column) {
    int at = head.indexOf(column);
    return at >= 0 && at < line.cells().size() ? line.cells().get(at) : "";
  }

  /** The lines as a CSV file with line feeds, blank items left out. */
  public static String csv(List<SheetLine> lines) {
    StringBuilder text = new StringBuilder(String.join(",", COLUMNS)).append('\n');
    for (SheetLine l : lines) {
      List<String> cells =
          List.of(l.item(), l.value(), l.start(), l.end(), l.turns(), l.temperature(), l.note());
      text.append(String.join(",", cells.stream().map(FieldSheetFile::quoted).toList()))
          .append('\n');
    }
    return text.toString();
  }

  /** A sheet of a method to fill in; empty where there is no such method. */
  public static Optional<String> blank(String method) {
    List<SheetLine> lines = new ArrayList<>();
    for (String item : BlankSheet.items(method))
      lines.add(
          new SheetLine(
              item, BlankSheet.value(item, method), "", "", "", "", BlankSheet.note(item), ""));
    return lines.isEmpty() ? Optional.empty() : Optional.of(csv(lines));
  }

  private static String quoted(String cell) {
    boolean plain = cell.chars().noneMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r');
    return plain ? cell : '"' + cell.replace("\"", "\"\"") + '"';
  }

  /** The lines as the JSON text of a course file's {@code field_sheet}. */
  public static String json(List<SheetLine> lines) {
    ObjectNode sheet = NODES.objectNode();
    for (SheetLine line : lines) {
      if (!FieldSheetItems.REPEATED.contains(line.item())) {
        if (!line.value().isBlank()) sheet.put(line.item(), line.value());
        continue;
      }
      ArrayNode array =
          sheet.has(line.item()) ? (ArrayNode) sheet.get(line.item()) : sheet.putArray(line.item());
      ObjectNode row = array.addObject();
      put(row, "value", line.value());
      put(row, "start", line.start());
      put(row, "end", line.end());
      put(row, "turns", line.turns());
      put(row, "temperature_c", line.temperature());
      put(row, "note", line.note());
    }
    return sheet.toString();
  }

  private static void put(ObjectNode row, String name, String value) {
    if (!value.isBlank()) row.put(name, value);
  }

  /** The lines of a course file's {@code field_sheet}; empty where it is none of ours. */
  public static List<SheetLine> lines(String json) {
    List<SheetLine> lines = new ArrayList<>();
    JsonNode sheet;
    try {
      sheet = JSON.readTree(json);
    } catch (JsonProcessingException e) {
      return lines;
    }
    sheet
        .properties()
        .forEach(
            e -> {
              if (!e.getValue().isArray()) {
                lines.add(SheetLine.item(e.getKey(), e.getValue().asText(), e.getKey()));
                return;
              }
              for (JsonNode row : e.getValue())
                lines.add(row(e.getKey(), row, e.getKey() + " " + (lines.size() + 1)));
            });
    return lines;
  }

  private static SheetLine row(String item, JsonNode row, String place) {
    return new SheetLine(
        item,
        row.path("value").asText(""),
        row.path("start").asText(""),
        row.path("end").asText(""),
        row.path("turns").asText(""),
        row.path("temperature_c").asText(""),
        row.path("note").asText(""),
        place);
  }
}
