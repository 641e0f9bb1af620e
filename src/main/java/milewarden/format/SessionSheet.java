package milewarden.format;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.SheetText;
import milewarden.track.SheetProblem;
import milewarden.track.SheetProblem.Kind;
import milewarden.track.SheetRead;
import milewarden.track.SheetRow;
import milewarden.track.TagName;
import milewarden.units.LengthUnit;

/**
 * The field sheet of a session, {@code session.csv}: a header row, one row per track or pass.
 *
 * <p>Headings are the tag names in any case and order, and {@code file}; other columns are kept.
 * Comma, semicolon or tab part the cells; the comma of a number is read as its point where it
 * cannot be meant otherwise. A shown distance may carry its unit: {@code 0.27 mi}.
 */
public final class SessionSheet {
  /** A sheet of more bytes is none: our own bound. */
  private static final int LARGEST = 8 << 20;

  private static final Pattern WITH_UNIT = Pattern.compile("([+-]?[\\d.,]+)\\s*([A-Za-z]+)");

  private final SheetCells reader;
  private final List<SheetRow> rows = new ArrayList<>();
  private final List<SheetProblem> problems = new ArrayList<>();
  private final Set<String> unknown = new LinkedHashSet<>();
  private final Set<List<String>> keys = new HashSet<>();
  private final List<String> headings;

  private SessionSheet(List<String> headings, boolean decimalComma) {
    this.headings = headings;
    reader = new SheetCells(decimalComma);
  }

  /** Reads a sheet; a bad row or cell is reported and the others go on. */
  public static SheetRead read(byte[] bytes) {
    if (bytes.length > LARGEST) return refused(Kind.TOO_LARGE, bytes.length + " bytes");
    Optional<String> decoded = SheetText.decode(bytes);
    if (decoded.isEmpty()) return refused(Kind.NOT_TEXT, "");
    SheetText text = SheetText.of(decoded.get());
    if (text.lines().isEmpty())
      return text.brokenAt().isPresent()
          ? refused(Kind.UNREADABLE, "line 1: a quote is never closed")
          : refused(Kind.EMPTY, "");
    List<String> headings = text.lines().get(0).cells();
    if (headings.stream().noneMatch(h -> isFile(h) || TagName.of(h).isPresent()))
      return refused(Kind.NO_HEADER, IssueLog.shortened(String.join(" ", headings)));
    SessionSheet sheet = new SessionSheet(headings, text.separator() != ',');
    for (SheetText.Line line : text.lines().subList(1, text.lines().size())) sheet.row(line);
    text.brokenAt()
        .ifPresent(at -> sheet.problem(Kind.UNREADABLE, at, "", "a quote is never closed"));
    return new SheetRead.Usable(sheet.rows, sheet.problems, List.copyOf(sheet.unknown));
  }

  private static SheetRead refused(Kind kind, String detail) {
    return new SheetRead.Refused(new SheetProblem(kind, 0, Optional.empty(), detail));
  }

  private static boolean isFile(String heading) {
    return heading.toLowerCase(Locale.ROOT).equals("file");
  }

  private void problem(Kind kind, int row, String column, String detail) {
    problems.add(
        new SheetProblem(
            kind,
            row,
            column.isEmpty() ? Optional.empty() : Optional.of(column),
            IssueLog.shortened(detail)));
  }

  private void row(SheetText.Line line) {
    List<String> cells = line.cells();
    for (int i = headings.size(); i < cells.size(); i++) {
      if (cells.get(i).isEmpty()) continue;
      // One comma too many moves every cell behind it: nothing of such a row can be trusted.
      problem(Kind.TOO_MANY_CELLS, line.number(), "", cells.get(i));
      return;
    }
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    Map<String, String> extra = new LinkedHashMap<>();
    Optional<String> file = Optional.empty();
    for (int i = 0; i < cells.size(); i++) {
      String text = plain(cells.get(i));
      if (text.isEmpty()) continue;
      String heading = headings.get(i);
      Optional<TagName> tag = TagName.of(heading);
      if (isFile(heading) && file.isEmpty()) file = Optional.of(text);
      else if (tag.isPresent() && !tags.containsKey(tag.get()))
        tag(tags, tag.get(), heading, text, line.number());
      else if (tag.isPresent()
          && reader.read(tag.get(), text).value().equals(tagged(tags, tag.get()))) continue;
      else extra(extra, heading, i, text);
    }
    keep(line.number(), tags, file, extra);
  }

  /** Without the apostrophe that keeps a spreadsheet from taking the cell for a formula. */
  private static String plain(String cell) {
    boolean guarded =
        cell.length() > 1 && cell.charAt(0) == '\'' && "=+-@".indexOf(cell.charAt(1)) >= 0;
    return guarded ? cell.substring(1) : cell;
  }

  private static Optional<String> tagged(Map<TagName, String> tags, TagName tag) {
    return Optional.ofNullable(tags.get(tag));
  }

  private void extra(Map<String, String> extra, String heading, int column, String text) {
    String name = heading.isEmpty() ? "column " + (column + 1) : heading;
    if (TagName.of(name).isPresent() || isFile(name))
      name = name + " (column " + (column + 1) + ")";
    unknown.add(name);
    extra.put(name, text);
  }

  private void tag(Map<TagName, String> tags, TagName tag, String heading, String text, int row) {
    String value = text;
    Matcher m = WITH_UNIT.matcher(text);
    if ((tag == TagName.SHOWN || tag == TagName.SHOWN_STEP) && m.matches()) {
      Optional<LengthUnit> unit = LengthUnit.of(m.group(2));
      if (unit.isPresent()) {
        value = m.group(1);
        // A unit in the cell is nearer to the display than the column's.
        if (tag == TagName.SHOWN) tags.put(TagName.SHOWN_UNIT, unit.get().symbol());
      }
    }
    SheetCells.Cell cell = reader.read(tag, value);
    cell.value().ifPresent(v -> tags.put(tag, v));
    cell.problem().ifPresent(kind -> problem(kind, row, heading, text));
  }

  private void keep(
      int row, Map<TagName, String> tags, Optional<String> file, Map<String, String> extra) {
    boolean counts =
        file.isPresent()
            || tags.containsKey(TagName.SHOWN)
            || tags.containsKey(TagName.EXCLUDED_REASON);
    if (!counts) {
      problem(Kind.NOTHING_TO_COUNT, row, "", "");
      return;
    }
    if (isRepeated(tags)) {
      problem(
          Kind.REPEATED_KEY,
          row,
          "",
          "session "
              + tags.get(TagName.SESSION)
              + ", unit "
              + tags.get(TagName.UNIT)
              + ", pass "
              + tags.get(TagName.PASS));
      return;
    }
    rows.add(new SheetRow(row, tags, file, extra));
  }

  /** A row is known by session, unit and pass, where it names all three. */
  private boolean isRepeated(Map<TagName, String> tags) {
    String session = tags.get(TagName.SESSION);
    String unit = tags.get(TagName.UNIT);
    String pass = tags.get(TagName.PASS);
    if (session == null || unit == null || pass == null) return false;
    return !keys.add(List.of(session, unit, pass));
  }
}
