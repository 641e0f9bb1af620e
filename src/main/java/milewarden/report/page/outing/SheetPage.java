package milewarden.report.page.outing;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.report.page.Links;
import milewarden.report.page.Option;
import milewarden.track.TagName;

/**
 * The field sheet of a session: printed, filled in as a table, or typed in at the mark.
 *
 * @param problems what of the last sending was not taken; sentences
 * @param sent what became of it; empty text before
 * @param others units that could go along
 * @param csv address of the sheet for spreadsheets with a point in their numbers
 * @param csvComma the same for those with a comma
 * @param another address of the sheet of a second outing of the day
 */
public record SheetPage(
    String model,
    String modelLink,
    String key,
    String action,
    String sentence,
    String session,
    String date,
    String day,
    String operator,
    String weather,
    String laps,
    List<Pass> passes,
    List<String> problems,
    String sent,
    List<Option> others,
    String csv,
    String csvComma,
    String another,
    boolean begun) {
  public SheetPage {
    passes = List.copyOf(passes);
    problems = List.copyOf(problems);
    others = List.copyOf(others);
  }

  // What stands in fields of its own; all else that is known goes along unseen.
  private static final Set<TagName> TYPED =
      EnumSet.of(
          TagName.SESSION,
          TagName.DATE,
          TagName.TIME,
          TagName.LAPS,
          TagName.OPERATOR,
          TagName.STANDING_S,
          TagName.BATTERY,
          TagName.WEATHER,
          TagName.SHOWN,
          TagName.SHOWN_UNIT,
          TagName.EXCLUDED_REASON,
          TagName.NOTES);

  /** A traverse of the course by all units. */
  public record Pass(String number, String title, String time, String standing, List<Row> rows) {
    public Pass {
      rows = List.copyOf(rows);
    }
  }

  /**
   * One unit's pass.
   *
   * @param number of the row on the page, from 0
   * @param shown as it was typed
   * @param kept whether the store has it
   * @param state what the store says of it
   * @param hidden tags that go along
   */
  public record Row(
      int number,
      String unit,
      String firmware,
      String carriage,
      String slot,
      String shown,
      String shownUnit,
      String reason,
      String battery,
      String notes,
      boolean kept,
      String state,
      List<Hidden> hidden) {
    public Row {
      hidden = List.copyOf(hidden);
    }
  }

  /** A tag that is not typed. */
  public record Hidden(String name, String value) {}

  /**
   * A line as the store or the advice has it.
   *
   * @param asTyped the reading as it was typed; empty where it came otherwise
   * @param kept when the store took it; empty where it has not
   * @param missing what its run still needs
   */
  public record Given(
      Map<TagName, String> tags, String asTyped, Optional<String> kept, List<TagName> missing) {
    public Given {
      tags = Map.copyOf(tags);
      missing = List.copyOf(missing);
    }

    private String tag(TagName name) {
      return tags.getOrDefault(name, "");
    }
  }

  /**
   * Of whom and when.
   *
   * @param others units that could go along, with their model
   */
  public record Head(
      long model,
      String name,
      String session,
      java.time.LocalDate date,
      boolean begun,
      Map<String, String> others) {}

  /** The sheet with what is known of it; lines by pass. */
  public static SheetPage of(
      Head head, List<Given> lines, List<String> problems, String sent, Digits digits) {
    Map<String, List<Row>> passes = new LinkedHashMap<>();
    Map<String, List<Given>> given = new LinkedHashMap<>();
    for (int i = 0; i < lines.size(); i++) {
      String pass = lines.get(i).tag(TagName.PASS);
      passes.computeIfAbsent(pass, p -> new ArrayList<>()).add(row(i, lines.get(i)));
      given.computeIfAbsent(pass, p -> new ArrayList<>()).add(lines.get(i));
    }
    List<Pass> all = new ArrayList<>();
    passes.forEach((pass, rows) -> all.add(pass(pass, rows, given.getOrDefault(pass, List.of()))));
    String address = Links.sheet(head.model());
    String named = Links.sheet(head.model(), head.session());
    return new SheetPage(
        head.name(),
        Links.model(head.model()),
        head.model() + " " + head.session(),
        address,
        sentence(head, lines, digits),
        head.session(),
        head.date().toString(),
        digits.date(head.date()),
        common(lines, TagName.OPERATOR),
        common(lines, TagName.WEATHER),
        common(lines, TagName.LAPS),
        all,
        problems,
        sent,
        head.others().entrySet().stream()
            .map(e -> new Option(e.getKey(), e.getKey() + ", " + e.getValue()))
            .toList(),
        named.replace("/sheet?", "/sheet.csv?"),
        named.replace("/sheet?", "/sheet.csv?") + "&decimals=comma",
        Links.sheet(head.model(), head.session() + " second"),
        head.begun());
  }

  private static String sentence(Head head, List<Given> lines, Digits digits) {
    if (lines.isEmpty())
      return "No unit of "
          + head.name()
          + " was carried yet: once a first recording is measured, its next session stands here.";
    Set<String> units = new LinkedHashSet<>();
    Set<String> courses = new LinkedHashSet<>();
    Set<String> gaits = new LinkedHashSet<>();
    for (Given line : lines) {
      units.add(line.tag(TagName.UNIT));
      courses.add(line.tag(TagName.COURSE));
      Gait.of(line.tag(TagName.GAIT)).map(Words::of).ifPresent(gaits::add);
    }
    return Words.capital(Words.list(List.copyOf(gaits)))
        + " on "
        + Words.list(List.copyOf(courses))
        + " with "
        + digits.counted(units.size(), "unit")
        + ".";
  }

  private static String common(List<Given> lines, TagName name) {
    List<String> values =
        lines.stream().map(l -> l.tag(name)).filter(v -> !v.isEmpty()).distinct().toList();
    return values.size() == 1 ? values.get(0) : "";
  }

  private static Pass pass(String number, List<Row> rows, List<Given> lines) {
    String way =
        Direction.of(common(lines, TagName.DIRECTION)).map(d -> ", " + Words.of(d)).orElse("");
    String time = common(lines, TagName.TIME);
    // A field for a time of day takes hours and minutes.
    return new Pass(
        number,
        "Pass " + number + way,
        time.length() > 5 ? time.substring(0, 5) : time,
        common(lines, TagName.STANDING_S),
        rows);
  }

  private static Row row(int number, Given line) {
    List<Hidden> hidden = new ArrayList<>();
    line.tags().entrySet().stream()
        .filter(e -> !TYPED.contains(e.getKey()))
        .sorted(Map.Entry.comparingByKey())
        .forEach(e -> hidden.add(new Hidden(e.getKey().code(), e.getValue())));
    String missing =
        line.missing().isEmpty()
            ? ""
            : "; it still lacks: " + Words.list(line.missing().stream().map(Words::of).toList());
    return new Row(
        number,
        line.tag(TagName.UNIT),
        line.tag(TagName.FIRMWARE),
        Carriage.of(line.tag(TagName.CARRIAGE)).map(Words::of).orElse(""),
        line.tag(TagName.SLOT),
        line.asTyped().isEmpty() ? line.tag(TagName.SHOWN) : line.asTyped(),
        line.tag(TagName.SHOWN_UNIT),
        line.tag(TagName.EXCLUDED_REASON).toLowerCase(Locale.ROOT).replaceAll("[ _]", "-"),
        line.tag(TagName.BATTERY),
        line.tag(TagName.NOTES),
        line.kept().isPresent(),
        line.kept().map(k -> "In the store since " + k + missing).orElse(""),
        hidden);
  }

  /** What the lists of the sheet offer, and what is said beside them. */
  public SheetChoices choices() {
    return new SheetChoices();
  }
}
