package milewarden.report.page.outing;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Errors;
import milewarden.accuracy.PooledError;
import milewarden.report.Digits;
import milewarden.report.page.ReleaseWords;
import milewarden.report.page.course.PlanChart;
import milewarden.report.page.model.LaddersChart;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.place.MeanLadder;

/**
 * How did they do side by side? All devices of an outing.
 *
 * @param pooled each unit with a pass that counts, all its passes as one way
 * @param controls what the control units read, a sentence each
 * @param ladders one per unit that has a track
 * @param plan the tracks over one of the courses
 * @param unread of tracks whose record is damaged, a sentence; empty text where none
 */
public record SessionPage(
    String name,
    String sentence,
    String when,
    List<Row> rows,
    List<Pooled> pooled,
    List<String> controls,
    Optional<LaddersChart> ladders,
    Optional<PlanChart> plan,
    String unread,
    List<OnCourse> courses) {
  public SessionPage {
    rows = List.copyOf(rows);
    pooled = List.copyOf(pooled);
    controls = List.copyOf(controls);
    courses = List.copyOf(courses);
  }

  /** A course of the outing; {@code here} where the plan is of it. */
  public record OnCourse(String course, String link, boolean here) {}

  /** A unit's passes as one way. */
  public record Pooled(
      String unit, String passes, String reference, String shown, String recorded, String track) {}

  /**
   * A pass that counts.
   *
   * @param track whether its track counts, too
   */
  public record Counted(String unit, String firmware, Distances distances, boolean track) {}

  /** A pass of a device. */
  public record Row(
      String unit,
      String model,
      String modelLink,
      String firmware,
      String course,
      String pass,
      String link,
      String reference,
      String shown,
      String shownError,
      String recorded,
      String recordedError,
      String track,
      String trackError,
      String remark,
      boolean counts) {}

  /** Whose pass a row is. */
  public record Who(
      String unit,
      String model,
      String modelLink,
      String firmware,
      String course,
      String pass,
      String link) {}

  /**
   * What goes with the table.
   *
   * @param ladders one per unit
   * @param plan of the course that is looked at
   * @param unread of tracks that it lacks; empty text where none
   */
  public record Beside(
      List<MeanLadder> ladders,
      List<String> controls,
      Optional<PlanChart> plan,
      String unread,
      List<OnCourse> courses) {
    public Beside {
      ladders = List.copyOf(ladders);
      controls = List.copyOf(controls);
      courses = List.copyOf(courses);
    }
  }

  /** The page of an outing. */
  public static SessionPage of(
      String name,
      String when,
      int runs,
      List<Row> rows,
      List<Counted> counted,
      Beside beside,
      Digits digits) {
    return new SessionPage(
        name,
        sentence(runs, rows, counted, digits),
        when,
        rows,
        pooled(counted, digits),
        beside.controls(),
        LaddersChart.ofUnits(beside.ladders(), digits),
        beside.plan(),
        beside.unread(),
        beside.courses());
  }

  /** What a control unit read, beside what it reads. */
  public static String control(
      String unit, double meanPercent, ReleaseFigures usual, Digits digits) {
    return "Control unit "
        + unit
        + " read "
        + digits.percent(meanPercent, 2)
        + " in its file that day; over "
        + digits.sessions(usual.sessions())
        + " it reads "
        + ReleaseWords.mean(usual, digits)
        + ", and its sessions spread by "
        + ReleaseWords.spread(usual, digits)
        + ".";
  }

  private static String sentence(int runs, List<Row> rows, List<Counted> counted, Digits digits) {
    long units = rows.stream().map(Row::unit).distinct().count();
    String size =
        digits.counted(units, "unit")
            + ", "
            + digits.counted(runs, "run")
            + ", "
            + (rows.size() == 1 ? "1 pass" : digits.count(rows.size()) + " passes");
    return size + " side by side" + fromTo(counted, digits) + ".";
  }

  /** From the unit that reads shortest to the one that reads longest, by what its file says. */
  private static String fromTo(List<Counted> counted, Digits digits) {
    Map<String, Double> errors = new LinkedHashMap<>();
    for (Map.Entry<String, List<Counted>> unit : byUnit(counted).entrySet())
      PooledError.recorded(unit.getValue().stream().map(Counted::distances).toList())
          .ifPresent(e -> errors.put(unit.getValue().get(0).unit(), e.percent().low()));
    if (errors.size() < 2) return "";
    Map.Entry<String, Double> least =
        Collections.min(errors.entrySet(), Map.Entry.comparingByValue());
    Map.Entry<String, Double> most =
        Collections.max(errors.entrySet(), Map.Entry.comparingByValue());
    return ": their files read from "
        + digits.percent(least.getValue(), 2)
        + " ("
        + least.getKey()
        + ") to "
        + digits.percent(most.getValue(), 2)
        + " ("
        + most.getKey()
        + ")";
  }

  private static Map<String, List<Counted>> byUnit(List<Counted> counted) {
    Map<String, List<Counted>> units = new LinkedHashMap<>();
    for (Counted c : counted)
      units.computeIfAbsent(c.unit() + ", " + c.firmware(), u -> new ArrayList<>()).add(c);
    return units;
  }

  private static List<Pooled> pooled(List<Counted> counted, Digits digits) {
    List<Pooled> all = new ArrayList<>();
    byUnit(counted).forEach((unit, passes) -> all.add(pooled(unit, passes, digits)));
    return all;
  }

  private static Pooled pooled(String unit, List<Counted> passes, Digits digits) {
    List<Distances> all = passes.stream().map(Counted::distances).toList();
    List<Distances> tracks =
        passes.stream().filter(Counted::track).map(Counted::distances).toList();
    return new Pooled(
        unit,
        digits.count(passes.size()),
        digits.ground(all.stream().mapToDouble(Distances::referenceM).sum()),
        pooled(PooledError.shown(all), passes.size(), digits),
        pooled(PooledError.recorded(all), passes.size(), digits),
        pooled(PooledError.track(tracks), passes.size(), digits));
  }

  private static String pooled(Optional<PooledError> error, int passes, Digits digits) {
    return error
        .map(
            e ->
                (e.percent().low() == e.percent().high()
                        ? digits.percent(e.percent().low(), 2)
                        : digits.interval(e.percent()))
                    + (e.passes() < passes ? " (" + digits.count(e.passes()) + " of them)" : ""))
        .orElse("none");
  }

  /** A measured pass on one line. */
  public static Row row(
      Who who, Distances d, Errors e, String remark, boolean counts, Digits digits) {
    return new Row(
        who.unit(),
        who.model(),
        who.modelLink(),
        who.firmware(),
        who.course(),
        who.pass(),
        who.link(),
        digits.ground(d.referenceM()),
        length(d.shownAsReadM(), "not read", digits),
        percent(e.shownAsReadPercent(), digits),
        length(d.recordedM(), "not recorded", digits),
        percent(e.recordedPercent(), digits),
        e.trackPercent().isPresent() ? digits.ground(d.trackM()) : "no track",
        percent(e.trackPercent(), digits),
        remark,
        counts);
  }

  private static String length(OptionalDouble metres, String missing, Digits digits) {
    return metres.isPresent() ? digits.ground(metres.getAsDouble()) : missing;
  }

  private static String percent(OptionalDouble percent, Digits digits) {
    return percent.isPresent() ? digits.percent(percent.getAsDouble(), 2) : "";
  }
}
