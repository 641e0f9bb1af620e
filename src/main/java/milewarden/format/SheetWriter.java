package milewarden.format;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import milewarden.track.SheetRow;
import milewarden.track.TagName;

/**
 * Writes a field sheet, {@code session.csv}: what {@link SessionSheet} reads again as the same
 * rows.
 *
 * <p>UTF-8 with the mark of byte order, without which spreadsheets take letters for those of their
 * own old encoding; lines end as RFC 4180 has it.
 */
public final class SheetWriter {
  // A spreadsheet takes such a cell for a formula (OWASP, CSV Injection).
  private static final Pattern FORMULA = Pattern.compile("[=+\\-@\\t\\r].*", Pattern.DOTALL);
  // The order in which a tester fills it; what else can be said stands behind.
  private static final List<TagName> COLUMNS =
      List.of(
          TagName.PASS,
          TagName.SLOT,
          TagName.UNIT,
          TagName.MODEL,
          TagName.FIRMWARE,
          TagName.COURSE,
          TagName.CARRIAGE,
          TagName.GAIT,
          TagName.DIRECTION,
          TagName.LAPS,
          TagName.SHOWN,
          TagName.SHOWN_UNIT,
          TagName.SHOWN_STEP,
          TagName.ROUNDING,
          TagName.BOUNDS,
          TagName.INTERVAL,
          TagName.BAND,
          TagName.START_PROTOCOL,
          TagName.STANDING_S,
          TagName.FIX_WAIT_S,
          TagName.BATTERY,
          TagName.WEATHER,
          TagName.CONTROL,
          TagName.OPERATOR,
          TagName.EXCLUDED_REASON,
          TagName.NOTES);
  private static final List<TagName> FIRST = List.of(TagName.SESSION, TagName.DATE, TagName.TIME);

  private SheetWriter() {}

  /** What parts the cells. */
  public enum Separator {
    /** For spreadsheets whose decimals have a point. */
    COMMA(','),
    /** For spreadsheets whose decimals have a comma; it leaves the comma to the numbers. */
    SEMICOLON(';');

    private final char sign;

    Separator(char sign) {
      this.sign = sign;
    }
  }

  /** The sheet with its header row. */
  public static byte[] write(List<SheetRow> rows, Separator separator) {
    Set<TagName> others = new LinkedHashSet<>(List.of(TagName.values()));
    FIRST.forEach(others::remove);
    COLUMNS.forEach(others::remove);
    others.removeIf(tag -> rows.stream().noneMatch(r -> r.tags().containsKey(tag)));
    Set<String> extra = new LinkedHashSet<>();
    for (SheetRow row : rows) row.extra().keySet().stream().sorted().forEach(extra::add);

    List<TagName> rest = new ArrayList<>(COLUMNS);
    rest.addAll(others);
    List<String> header = new ArrayList<>();
    FIRST.forEach(t -> header.add(t.code()));
    header.add("file");
    rest.forEach(t -> header.add(t.code()));
    header.addAll(extra);
    StringBuilder text = new StringBuilder("\ufeff");
    line(text, header, separator);
    for (SheetRow row : rows) {
      List<String> cells = new ArrayList<>();
      FIRST.forEach(t -> cells.add(row.tags().getOrDefault(t, "")));
      cells.add(row.file().orElse(""));
      rest.forEach(t -> cells.add(row.tags().getOrDefault(t, "")));
      extra.forEach(e -> cells.add(row.extra().getOrDefault(e, "")));
      line(text, cells, separator);
    }
    return text.toString().getBytes(StandardCharsets.UTF_8);
  }

  private static void line(StringBuilder text, List<String> cells, Separator separator) {
    String sign = String.valueOf(separator.sign);
    text.append(cells.stream().map(c -> cell(c, separator)).collect(Collectors.joining(sign)))
        .append("\r\n");
  }

  private static String cell(String text, Separator separator) {
    String cell = FORMULA.matcher(text).matches() ? "'" + text : text;
    boolean quoted =
        cell.indexOf(separator.sign) >= 0
            || cell.indexOf('"') >= 0
            || cell.indexOf('\n') >= 0
            || cell.indexOf('\r') >= 0;
    return quoted ? '"' + cell.replace("\"", "\"\"") + '"' : cell;
  }
}
