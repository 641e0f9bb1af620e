package milewarden.review.outing;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import milewarden.course.Direction;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.file.SheetRows;
import milewarden.store.judged.DueItems;
import milewarden.store.run.Models;
import milewarden.track.SheetRow;
import milewarden.track.TagName;
import milewarden.verdict.DueItem;

/**
 * The field sheet of the session to be run next: what is advised, filled in as far as it is known
 * from the sessions before, and what was read already.
 */
public final class NextSheet {
  private static final int PASSES = 2;

  private NextSheet() {}

  /**
   * What the tester asks for.
   *
   * @param item the due item whose advice is followed; empty for the most pressing one's
   * @param session its name; empty for one of the day and the course
   * @param along units of other models that go along
   */
  public record Wish(
      Optional<Long> item, Optional<String> session, LocalDate date, List<String> along) {
    public Wish {
      along = List.copyOf(along);
    }
  }

  /**
   * One pass of one unit.
   *
   * @param tags all that is known of it, the reading where it was taken
   * @param kept the row of the store, where one is
   */
  public record Line(Map<TagName, String> tags, Optional<SheetRows.SheetRow> kept) {
    public Line {
      tags = Map.copyOf(tags);
    }

    public String unit() {
      return tags.getOrDefault(TagName.UNIT, "");
    }

    public String pass() {
      return tags.getOrDefault(TagName.PASS, "");
    }

    /** As a row of the sheet; the path of its track is that within the inbox. */
    public SheetRow row(int number) {
      return new SheetRow(
          number,
          tags,
          kept.map(k -> k.words().path()).filter(p -> !p.isEmpty()),
          kept.map(k -> k.words().extra()).orElse(Map.of()));
    }
  }

  /**
   * The sheet.
   *
   * @param advised true where a due item asks for it; else it repeats the last session
   * @param lines by pass, then unit
   * @param others units that could go along, with their model's name
   * @param begun true where a reading of this session is in the store
   */
  public record Sheet(
      ModelId model,
      String modelName,
      String session,
      boolean advised,
      List<Line> lines,
      Map<String, String> others,
      boolean begun) {
    public Sheet {
      lines = List.copyOf(lines);
      others = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(others));
    }

    public List<SheetRow> rows() {
      List<SheetRow> rows = new ArrayList<>();
      for (Line line : lines) rows.add(line.row(rows.size() + 2));
      return rows;
    }
  }

  /** The sheet of a model; without lines where no unit of it was ever carried. */
  public static Sheet of(Tx tx, Models.Model model, Wish wish) {
    LastPasses last = LastPasses.of(tx, model.id());
    Optional<DueItem> item = item(tx, model.id(), wish.item());
    Optional<DueItem.Outing> outing =
        item.flatMap(i -> i.advice().outing()).or(() -> last.repeated(model.name()));
    String course = outing.map(o -> o.runs().get(0).condition().course()).orElse("");
    String session = wish.session().orElse(wish.date() + " " + course).strip();
    List<SheetRows.SheetRow> kept = SheetRows.ofSession(tx, session);
    List<Line> lines = new ArrayList<>();
    for (SheetRows.SheetRow row : kept) lines.add(new Line(row.words().tags(), Optional.of(row)));
    outing.ifPresent(
        o -> {
          for (int pass = 1; pass <= PASSES; pass++)
            for (Map<TagName, String> advised :
                advised(tx, o, last, wish, item.map(DueItem::firmware), pass))
              add(lines, with(advised, session, wish.date()), kept);
        });
    inOrder(lines, session);
    Map<String, String> others = new TreeMap<>();
    for (Models.Unit unit : Models.units(tx))
      if (lines.stream().noneMatch(l -> l.unit().equals(unit.name())))
        others.put(unit.name(), unit.modelName());
    return new Sheet(
        model.id(), model.name(), session, item.isPresent(), lines, others, !kept.isEmpty());
  }

  /** By pass, and within it in the order of starting. */
  private static void inOrder(List<Line> lines, String session) {
    List<String> units = lines.stream().map(Line::unit).distinct().sorted().toList();
    Comparator<Line> byStart =
        Comparator.comparingInt(l -> Turns.order(session, l.pass(), units).indexOf(l.unit()));
    lines.sort(
        Comparator.comparing((Line l) -> number(l.pass()))
            .thenComparing(Line::pass)
            .thenComparing(byStart));
  }

  private static int number(String pass) {
    try {
      return Integer.parseInt(pass);
    } catch (NumberFormatException e) {
      return Integer.MAX_VALUE;
    }
  }

  private static Optional<DueItem> item(Tx tx, ModelId model, Optional<Long> wanted) {
    return DueItems.open(tx, model).stream()
        .filter(d -> d.item().advice().outing().isPresent())
        .filter(d -> wanted.isEmpty() || wanted.get() == d.id().value())
        .min(
            Comparator.comparing((DueItems.Due d) -> d.item().severity())
                .thenComparing(DueItems.Due::raisedAt))
        .map(DueItems.Due::item);
  }

  private static List<Map<TagName, String>> advised(
      Tx tx,
      DueItem.Outing outing,
      LastPasses last,
      Wish wish,
      Optional<String> firmware,
      int pass) {
    Direction way = pass % 2 == 1 ? outing.first() : other(outing.first());
    List<Map<TagName, String>> rows = new ArrayList<>();
    for (DueItem.NextRun run : outing.runs()) {
      Map<TagName, String> tags = last.tags(tx, run.unit(), run.condition());
      tags.put(TagName.CARRIAGE, run.condition().carriage().code());
      firmware.ifPresent(f -> tags.put(TagName.FIRMWARE, f));
      rows.add(tags);
    }
    List<String> along = new ArrayList<>(last.controls());
    for (String unit : wish.along()) if (!along.contains(unit)) along.add(unit);
    for (String unit : along)
      if (rows.stream().noneMatch(r -> unit.equals(r.get(TagName.UNIT))))
        rows.add(last.tags(tx, unit, outing.runs().get(0).condition()));
    Turns.places(rows);
    for (Map<TagName, String> tags : rows) {
      tags.put(TagName.PASS, Integer.toString(pass));
      tags.put(TagName.COURSE, outing.runs().get(0).condition().course());
      tags.put(TagName.GAIT, outing.runs().get(0).condition().gait().code());
      tags.put(TagName.DIRECTION, way.code());
    }
    return rows;
  }

  private static Direction other(Direction way) {
    return way == Direction.FORWARD ? Direction.REVERSE : Direction.FORWARD;
  }

  private static Map<TagName, String> with(
      Map<TagName, String> advised, String session, LocalDate date) {
    Map<TagName, String> tags = new EnumMap<>(advised);
    tags.put(TagName.SESSION, session);
    tags.put(TagName.DATE, date.toString());
    return tags;
  }

  /** Adds what is not there yet; a unit that was worn in one way stays so within the session. */
  private static void add(
      List<Line> lines, Map<TagName, String> advised, List<SheetRows.SheetRow> kept) {
    String unit = advised.getOrDefault(TagName.UNIT, "");
    String pass = advised.getOrDefault(TagName.PASS, "");
    if (lines.stream().anyMatch(l -> l.unit().equals(unit) && l.pass().equals(pass))) return;
    Map<TagName, String> tags = new EnumMap<>(advised);
    kept.stream()
        .filter(row -> row.words().key().unit().equals(unit))
        .findFirst()
        .ifPresent(
            row -> {
              for (TagName name : LastPasses.STAYS)
                Optional.ofNullable(row.words().tags().get(name)).ifPresent(v -> tags.put(name, v));
            });
    lines.add(new Line(tags, Optional.empty()));
  }
}
