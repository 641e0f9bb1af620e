package milewarden.verdict.place;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import milewarden.statistics.Sample;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Source;
import milewarden.verdict.place.DeviceDayCourse.Place;

/**
 * One side of a comparison by session, unit and place, in percent; what was not measured is NaN.
 *
 * @param rows by session, then unit
 * @param controls which units are controls
 * @param paired sessions in which both the model and a control were carried, in order of start
 * @param robust whether a session's level is the median of its places, else their mean
 */
record Side(
    Map<String, Map<String, double[]>> rows,
    Set<String> controls,
    List<String> paired,
    int places,
    boolean robust) {

  /** The excess of the track on the stretches of one course. */
  static Side ofStretches(Collection<PlacedPass> passes, List<Place> stretches) {
    return of(
        passes,
        PlacedPass::session,
        PlacedPass::start,
        PlacedPass::unit,
        PlacedPass::control,
        of -> excess(of, stretches),
        stretches.size(),
        true);
  }

  /**
   * The errors on the courses; passes within direction, then directions.
   *
   * @param source of the model's errors
   * @param control of the control units', whose displays nobody may have read
   */
  static Side ofCourses(
      Collection<PassEvidence> passes, Source source, Source control, List<Place> courses) {
    List<PassEvidence> counted =
        passes.stream()
            .filter(p -> p.exclusion().isEmpty())
            .filter(p -> PassError.of(p, p.control() ? control : source).isPresent())
            .toList();
    return of(
        counted,
        PassEvidence::session,
        PassEvidence::sessionStart,
        PassEvidence::unit,
        PassEvidence::control,
        of -> errors(of, of.get(0).control() ? control : source, courses),
        courses.size(),
        false);
  }

  private static <P> Side of(
      Collection<P> passes,
      Function<P, String> session,
      Function<P, Instant> start,
      Function<P, String> unit,
      Function<P, Boolean> control,
      Function<List<P>, double[]> row,
      int places,
      boolean robust) {
    Map<String, Map<String, List<P>>> groups = new TreeMap<>();
    Map<Instant, Set<String>> order = new TreeMap<>();
    Set<String> controls = new TreeSet<>();
    for (P p : passes) {
      groups
          .computeIfAbsent(session.apply(p), k -> new TreeMap<>())
          .computeIfAbsent(unit.apply(p), k -> new ArrayList<>())
          .add(p);
      order.computeIfAbsent(start.apply(p), k -> new TreeSet<>()).add(session.apply(p));
      if (control.apply(p)) controls.add(unit.apply(p));
    }
    Map<String, Map<String, double[]>> rows = new TreeMap<>();
    groups.forEach(
        (key, units) -> {
          Map<String, double[]> each = new TreeMap<>();
          units.forEach((u, of) -> each.put(u, row.apply(of)));
          rows.put(key, each);
        });
    Set<String> inOrder = new LinkedHashSet<>();
    order.values().forEach(inOrder::addAll);
    List<String> paired = inOrder.stream().filter(s -> both(rows, s, controls)).toList();
    return new Side(rows, controls, paired, places, robust);
  }

  private static boolean both(
      Map<String, Map<String, double[]>> rows, String session, Set<String> controls) {
    Set<String> units = rows.getOrDefault(session, Map.of()).keySet();
    return units.stream().anyMatch(controls::contains)
        && units.stream().anyMatch(u -> !controls.contains(u));
  }

  private static double[] excess(List<PlacedPass> passes, List<Place> stretches) {
    int bins = passes.get(0).bins();
    double[] mean = SessionMeans.of(passes, bins).values().iterator().next();
    double[] percent = new double[stretches.size()];
    for (int p = 0; p < percent.length; p++) {
      Place s = stretches.get(p);
      int from = (int) Math.round(s.fromM() / PlacedPass.BIN_M);
      int to = Math.min(bins, (int) Math.ceil(s.toM() / PlacedPass.BIN_M));
      for (int bin = from; bin < to; bin++) percent[p] += 100 * mean[bin] / (s.toM() - s.fromM());
    }
    return percent;
  }

  private static double[] errors(List<PassEvidence> passes, Source source, List<Place> courses) {
    double[] row = new double[courses.size()];
    for (int p = 0; p < row.length; p++) {
      String course = courses.get(p).course();
      Map<String, List<Double>> directions = new TreeMap<>();
      for (PassEvidence e : passes)
        if (e.condition().course().equals(course))
          directions
              .computeIfAbsent(e.direction().name(), k -> new ArrayList<>())
              .add(PassError.of(e, source).orElseThrow().asRead());
      row[p] = directions.values().stream().mapToDouble(Side::mean).average().orElse(Double.NaN);
    }
    return row;
  }

  private static double mean(List<Double> x) {
    return x.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
  }

  Set<String> units() {
    Set<String> all = new TreeSet<>();
    for (String s : paired) all.addAll(rows.getOrDefault(s, Map.of()).keySet());
    return all;
  }

  boolean isControl(String unit) {
    return controls.contains(unit);
  }

  Optional<double[]> row(String session, String unit) {
    return Optional.ofNullable(rows.getOrDefault(session, Map.of()).get(unit));
  }

  /** The middle of a unit's sessions by place; of its like, where it has none there. */
  double[] middle(String unit, boolean control) {
    double[] middle = new double[places];
    for (int p = 0; p < places; p++) {
      double[] own = column(p, u -> u.equals(unit));
      double[] of = own.length > 0 ? own : column(p, u -> isControl(u) == control);
      middle[p] = of.length > 0 ? Sample.median(of) : Double.NaN;
    }
    return middle;
  }

  private double[] column(int place, Function<String, Boolean> which) {
    return rows.values().stream()
        .flatMap(units -> units.entrySet().stream())
        .filter(e -> which.apply(e.getKey()))
        .mapToDouble(e -> e.getValue()[place])
        .filter(x -> !Double.isNaN(x))
        .toArray();
  }

  double[] model() {
    return paired.stream().mapToDouble(s -> level(s, false)).toArray();
  }

  double[] control() {
    return paired.stream().mapToDouble(s -> level(s, true)).toArray();
  }

  double[] difference() {
    return paired.stream().mapToDouble(s -> level(s, false) - level(s, true)).toArray();
  }

  /** How far a place lies from its session's level; of the sessions that hold it. */
  double[] beyond(int place, boolean control) {
    return paired.stream()
        .mapToDouble(s -> group(s, control)[place] - level(s, control))
        .filter(x -> !Double.isNaN(x))
        .toArray();
  }

  /** One column per place: the share that it has of each paired session. */
  double[][] shares() {
    double[][] columns = new double[places][paired.size()];
    for (int s = 0; s < paired.size(); s++) {
      double[] row = group(paired.get(s), false);
      double held = Arrays.stream(row).filter(x -> !Double.isNaN(x)).count();
      for (int p = 0; p < places; p++) columns[p][s] = Double.isNaN(row[p]) ? 0 : 1 / held;
    }
    return columns;
  }

  private double level(String session, boolean control) {
    double[] own = group(session, control);
    double[] other = group(session, !control);
    double[] both = new double[places];
    int n = 0;
    // A session's level rests on the places that both hold, so that the two can be compared.
    for (int p = 0; p < places; p++)
      if (!Double.isNaN(own[p]) && !Double.isNaN(other[p])) both[n++] = own[p];
    double[] held = Arrays.copyOf(both, n);
    if (n == 0) return Double.NaN;
    return robust ? Sample.median(held) : Sample.of(held).mean();
  }

  private double[] group(String session, boolean control) {
    double[] mean = new double[places];
    for (int p = 0; p < places; p++) {
      int place = p;
      mean[p] =
          rows.getOrDefault(session, Map.of()).entrySet().stream()
              .filter(e -> isControl(e.getKey()) == control)
              .mapToDouble(e -> e.getValue()[place])
              .filter(x -> !Double.isNaN(x))
              .average()
              .orElse(Double.NaN);
    }
    return mean;
  }

  /** Without the sessions in which model and control share no place. */
  Side sharing() {
    List<String> kept = paired.stream().filter(s -> !Double.isNaN(level(s, true))).toList();
    return new Side(rows, controls, kept, places, robust);
  }
}
