package milewarden.intake.typed;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.format.SessionSheet;
import milewarden.format.SheetWriter;
import milewarden.intake.drop.Upload;
import milewarden.report.SheetWords;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.file.SheetRows;
import milewarden.track.SheetProblem;
import milewarden.track.SheetRead;
import milewarden.track.SheetRow;
import milewarden.track.TagName;

/**
 * Takes what was typed in as a field sheet. The same readings may be sent any number of times: a
 * row is known by session, unit and pass, and what says nothing new brings no sheet.
 */
public final class TypedReadings {
  /** The column that keeps a reading as it was typed. */
  public static final String AS_TYPED = "as_typed";

  /** The column that says when it was typed, by the clock of who typed it. */
  public static final String TYPED_AT = "typed_at";

  // Three digits behind a comma are thousands where the unit is small, decimals where it is large.
  private static final Pattern THOUSANDS = Pattern.compile("\\d{1,3},\\d{3}\\s*([A-Za-z]*)");
  private static final List<String> SMALL = List.of("m", "ft", "yd");

  private final Database database;
  private final Upload upload;

  public TypedReadings(Database database, Upload upload) {
    this.database = database;
    this.upload = upload;
  }

  /**
   * One pass of one unit as typed.
   *
   * @param number of the row on the page
   * @param tags as typed; an empty text takes back what was said before
   * @param typedAt RFC 3339, or empty where the sender knows no time
   */
  public record Typed(int number, Map<TagName, String> tags, String typedAt) {
    public Typed {
      tags = Map.copyOf(tags);
    }

    private SheetRows.Key key() {
      return new SheetRows.Key(
          tags.getOrDefault(TagName.SESSION, ""),
          tags.getOrDefault(TagName.UNIT, ""),
          tags.getOrDefault(TagName.PASS, ""));
    }
  }

  /** What can't be taken, and why. */
  public record Wrong(int number, TagName column, String sentence) {}

  /**
   * What became of them.
   *
   * @param kept numbers of the rows that are in the store now, or were before
   */
  public record Taken(List<Integer> kept, List<Wrong> wrong) {
    public Taken {
      kept = List.copyOf(kept);
      wrong = List.copyOf(wrong);
    }
  }

  /** Takes those that can be read; when this returns they are in the store. */
  public Taken take(List<Typed> typed) {
    List<Integer> kept = new ArrayList<>();
    List<Wrong> wrong = new ArrayList<>();
    List<SheetRow> rows = new ArrayList<>();
    database.read(
        tx -> {
          for (Typed each : typed) {
            if (saysNothing(tx, each)) continue;
            List<Wrong> why = new ArrayList<>();
            Optional<SheetRow> row = row(tx, each, why, rows.size() + 2);
            if (why.isEmpty()) {
              kept.add(each.number());
              row.ifPresent(rows::add);
            } else wrong.addAll(why);
          }
          return rows.size();
        });
    // The semicolon leaves the comma to the numbers: a reading may be typed with either.
    if (!rows.isEmpty())
      upload.take(
          "session.csv", SheetWriter.write(rows, SheetWriter.Separator.SEMICOLON), Map.of());
    return new Taken(kept, wrong);
  }

  /** An empty line of the page, of which the store knows nothing either. */
  private static boolean saysNothing(Tx tx, Typed typed) {
    return typed.tags().getOrDefault(TagName.SHOWN, "").isBlank()
        && typed.tags().getOrDefault(TagName.EXCLUDED_REASON, "").isBlank()
        && SheetRows.find(tx, typed.key()).isEmpty();
  }

  /** The row that is new to the store; empty where it says nothing new, or something is wrong. */
  private static Optional<SheetRow> row(Tx tx, Typed typed, List<Wrong> wrong, int number) {
    SheetRows.Key key = typed.key();
    if (key.session().isBlank())
      wrong.add(new Wrong(typed.number(), TagName.SESSION, "The session has no name."));
    if (key.unit().isBlank())
      wrong.add(new Wrong(typed.number(), TagName.UNIT, "The row names no unit."));
    if (!wrong.isEmpty()) return Optional.empty();
    Optional<SheetRows.Words> before = SheetRows.find(tx, key).map(SheetRows.SheetRow::words);
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    before.ifPresent(words -> tags.putAll(words.tags()));
    typed.tags().forEach((name, value) -> put(tags, name, value.strip()));
    fitStep(tags, before.map(SheetRows.Words::tags).orElse(Map.of()), typed.tags());
    Map<String, String> extra = new HashMap<>(before.map(SheetRows.Words::extra).orElse(Map.of()));
    Optional<String> file = before.map(SheetRows.Words::path).filter(p -> !p.isEmpty());
    boolean says = tags.containsKey(TagName.SHOWN) || tags.containsKey(TagName.EXCLUDED_REASON);
    if (!says && file.isEmpty()) {
      wrong.add(
          new Wrong(
              typed.number(),
              TagName.SHOWN,
              "A reading that was taken in can be changed, not emptied: say why the pass does not"
                  + " count."));
      return Optional.empty();
    }
    if (isOlder(typed, extra)) return Optional.empty();
    String shown = typed.tags().getOrDefault(TagName.SHOWN, "").strip();
    if (typed.tags().containsKey(TagName.SHOWN)) putText(extra, AS_TYPED, shown);
    SheetRow row = new SheetRow(number, tags, file, extra);
    Optional<SheetRow> read = read(row, typed.number(), shown, wrong);
    if (read.isPresent() && FarOff.is(tx, read.get()))
      wrong.add(new Wrong(typed.number(), TagName.SHOWN, FarOff.SENTENCE));
    if (!wrong.isEmpty()) return Optional.empty();
    if (read.isEmpty() || before.isPresent() && same(read.get(), before.get()))
      return Optional.empty();
    if (!typed.typedAt().isEmpty()) extra.put(TYPED_AT, typed.typedAt());
    return Optional.of(new SheetRow(number, tags, file, extra));
  }

  private static void put(Map<TagName, String> tags, TagName name, String value) {
    // The page shows hours and minutes; the seconds that are known stay.
    if (name == TagName.TIME && tags.getOrDefault(name, "").startsWith(value + ":")) return;
    if (value.isEmpty()) tags.remove(name);
    else tags.put(name, value);
  }

  private static void putText(Map<String, String> texts, String name, String value) {
    if (value.isEmpty()) texts.remove(name);
    else texts.put(name, value);
  }

  /** A step that came from earlier readings does not bind one that shows more digits. */
  private static void fitStep(
      Map<TagName, String> tags, Map<TagName, String> before, Map<TagName, String> typed) {
    String step = tags.getOrDefault(TagName.SHOWN_STEP, "");
    String shown = tags.getOrDefault(TagName.SHOWN, "");
    boolean otherUnit =
        before.containsKey(TagName.SHOWN_UNIT)
            && typed.containsKey(TagName.SHOWN_UNIT)
            && !before.get(TagName.SHOWN_UNIT).equals(typed.get(TagName.SHOWN_UNIT));
    if (!step.isEmpty() && (otherUnit || decimals(shown) > decimals(step)))
      tags.remove(TagName.SHOWN_STEP);
  }

  private static int decimals(String number) {
    Matcher m = Pattern.compile("\\d*[.,](\\d*).*").matcher(number.strip());
    return m.matches() ? m.group(1).length() : 0;
  }

  // The clock of one telephone runs in one direction: what it typed earlier does not take back what
  // it typed later. Both are RFC 3339 in UTC and of one length.
  private static boolean isOlder(Typed typed, Map<String, String> extra) {
    String known = extra.getOrDefault(TYPED_AT, "");
    return !known.isEmpty() && !typed.typedAt().isEmpty() && typed.typedAt().compareTo(known) < 0;
  }

  private static boolean same(SheetRow row, SheetRows.Words before) {
    return row.tags().equals(before.tags())
        && row.extra().getOrDefault(AS_TYPED, "").equals(before.extra().getOrDefault(AS_TYPED, ""));
  }

  /** The row as the intake will read it. */
  private static Optional<SheetRow> read(
      SheetRow row, int number, String shown, List<Wrong> wrong) {
    if (isThousands(shown, row.tags().getOrDefault(TagName.SHOWN_UNIT, "")))
      wrong.add(
          new Wrong(
              number,
              TagName.SHOWN,
              "The comma in "
                  + shown
                  + " may part thousands or decimals. Write it without, or with a point."));
    byte[] sheet = SheetWriter.write(List.of(row), SheetWriter.Separator.SEMICOLON);
    SheetRead read = SessionSheet.read(sheet);
    List<SheetRow> rows =
        read.fold(
            usable -> {
              usable.problems().forEach(p -> wrong.add(wrong(p, number)));
              return usable.rows();
            },
            refused -> {
              wrong.add(wrong(refused.why(), number));
              return List.<SheetRow>of();
            });
    for (SheetRow each : rows)
      if (each.tags().containsKey(TagName.SHOWN) && !each.tags().containsKey(TagName.SHOWN_UNIT))
        wrong.add(new Wrong(number, TagName.SHOWN_UNIT, "Say the unit of the distance shown."));
    return wrong.isEmpty() ? rows.stream().findFirst() : Optional.empty();
  }

  private static boolean isThousands(String shown, String unit) {
    Matcher m = THOUSANDS.matcher(shown);
    if (!m.matches()) return false;
    return SMALL.contains(m.group(1).isEmpty() ? unit : m.group(1));
  }

  private static Wrong wrong(SheetProblem problem, int number) {
    TagName column = problem.column().flatMap(TagName::of).orElse(TagName.SHOWN);
    return new Wrong(
        number,
        column,
        SheetWords.of(problem).what() + " Mend it and send it again; it stays here.");
  }
}
