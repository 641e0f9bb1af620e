package milewarden.verdict.place;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.DoubleStream;
import milewarden.statistics.Contrast;
import milewarden.statistics.MedianPolish;
import milewarden.statistics.Sample;
import milewarden.verdict.place.DeviceDayCourse.Effect;
import milewarden.verdict.place.DeviceDayCourse.Finding;
import milewarden.verdict.place.DeviceDayCourse.Stretch;
import milewarden.verdict.place.DeviceDayCourse.What;

/**
 * Tells device, day and course apart by the control units that were carried beside the model: what
 * moves them too is not the firmware.
 *
 * <p>Sizes come from the median polish, so that one wild cell moves none. A statement needs a t
 * test on whole sessions as well: the model's change against the control's in the same session, and
 * the control's own, each at 1 %; stretches at 1 % shared among them.
 */
public final class Blame {
  // Together at most 3 % of comparisons in which nothing happened say something; by simulation.
  private static final double ALPHA = 0.01;
  // The other side of a shared stretch must move too, by an ordinary test.
  private static final double ORDINARY = 0.05;
  private static final int FEWEST = 3;
  // A robust z beyond which a session is set apart: Iglewicz and Hoaglin (1993), How to Detect and
  // Handle Outliers.
  private static final double SET_APART = 3.5;
  private static final int MOST_STRETCHES = 20;
  private static final double SHORTEST_STRETCH_M = 50;

  private final Side candidate;
  private final Side baseline;
  private final PlacedPass any;
  private final double smallest;
  private final List<Stretch> stretches;

  private Blame(
      Collection<PlacedPass> candidate, Collection<PlacedPass> baseline, double smallest) {
    this.any = candidate.iterator().next();
    this.smallest = smallest;
    this.stretches = stretches(any.lengthM());
    this.candidate = Side.of(candidate, stretches);
    this.baseline = Side.of(baseline, stretches);
  }

  /**
   * Of passes on one version of one course.
   *
   * @param candidate the model's under the candidate, and the control units' of the same sessions
   * @param baseline the model's under the baseline, and the control units' of the same sessions
   * @param smallest change of the whole course's excess that is worth a statement, points
   * @return empty where either side has no pass
   */
  public static Optional<DeviceDayCourse> of(
      Collection<PlacedPass> candidate, Collection<PlacedPass> baseline, double smallest) {
    if (candidate.isEmpty() || baseline.isEmpty()) return Optional.empty();
    return Optional.of(new Blame(candidate, baseline, smallest).tell());
  }

  private static List<Stretch> stretches(double lengthM) {
    int bins = (int) Math.ceil(lengthM / PlacedPass.BIN_M);
    double width = Math.max(SHORTEST_STRETCH_M, lengthM / MOST_STRETCHES);
    int each = (int) Math.ceil(width / PlacedPass.BIN_M);
    List<Stretch> made = new ArrayList<>();
    for (int from = 0; from < bins; from += each)
      made.add(
          new Stretch(
              from * PlacedPass.BIN_M, Math.min(lengthM, (from + each) * PlacedPass.BIN_M)));
    // What is left at the end is no stretch of its own.
    int last = made.size() - 1;
    if (last > 0 && made.get(last).toM() - made.get(last).fromM() < width / 2) {
      Stretch rest = made.remove(last);
      made.set(last - 1, new Stretch(made.get(last - 1).fromM(), rest.toM()));
    }
    return made;
  }

  private DeviceDayCourse tell() {
    Fit fit = fit();
    List<Finding> findings = new ArrayList<>();
    if (candidate.paired().size() < FEWEST || baseline.paired().size() < FEWEST)
      findings.add(finding(What.CANNOT_TELL, fit.model));
    else {
      whole(fit, findings);
      for (int p = 0; p < stretches.size(); p++) stretch(p, findings);
      days(fit, findings);
      if (findings.isEmpty()) findings.add(finding(What.NOTHING, fit.model));
    }
    return new DeviceDayCourse(
        any.condition().course(),
        any.condition().courseVersion(),
        candidate.paired().size(),
        baseline.paired().size(),
        fit.common,
        fit.devices,
        fit.sessions,
        fit.stretches,
        fit.spread,
        findings);
  }

  private static Finding finding(What what, double points) {
    return new Finding(what, points, Optional.empty(), Optional.empty());
  }

  private void whole(Fit fit, List<Finding> findings) {
    Contrast model =
        Contrast.pooled(Sample.of(candidate.difference()), Sample.of(baseline.difference()));
    Contrast control =
        Contrast.pooled(Sample.of(candidate.control()), Sample.of(baseline.control()));
    if (model.p() < ALPHA && Math.abs(fit.model) >= smallest)
      findings.add(finding(What.THIS_MODEL, fit.model));
    if (control.p() < ALPHA && Math.abs(fit.common) >= smallest)
      findings.add(finding(What.ALL_DEVICES, fit.common));
  }

  private void stretch(int p, List<Finding> findings) {
    Contrast model = at(p, false);
    Contrast control = at(p, true);
    double alpha = ALPHA / stretches.size();
    boolean sameWay = model.estimate() * control.estimate() > 0;
    Optional<Stretch> there = Optional.of(stretches.get(p));
    if (control.p() < alpha && model.p() < ORDINARY && sameWay)
      findings.add(
          new Finding(What.STRETCH_ALL_DEVICES, control.estimate(), there, Optional.empty()));
    else if (model.p() < alpha && control.p() >= ORDINARY)
      findings.add(new Finding(What.STRETCH_THIS_MODEL, model.estimate(), there, Optional.empty()));
  }

  /** The change on one stretch beyond that of the whole course, of the controls or the model. */
  private Contrast at(int p, boolean control) {
    return Contrast.pooled(
        Sample.of(candidate.beyond(p, control)), Sample.of(baseline.beyond(p, control)));
  }

  /** A session in which model and control are both set apart, the same way. */
  private void days(Fit fit, List<Finding> findings) {
    double[] model = apart(candidate.model(), baseline.model());
    double[] control = apart(candidate.control(), baseline.control());
    List<String> keys = candidate.paired();
    for (int s = 0; s < keys.size(); s++) {
      boolean both = Math.min(Math.abs(model[s]), Math.abs(control[s])) > SET_APART;
      double points = fit.sessions.get(s).points();
      if (both && model[s] * control[s] > 0 && Math.abs(points) >= smallest)
        findings.add(
            new Finding(
                What.SESSION_ALL_DEVICES, points, Optional.empty(), Optional.of(keys.get(s))));
    }
  }

  /** Robust z of the first side's sessions; the spread is that of both, each about its middle. */
  private static double[] apart(double[] x, double[] others) {
    double middle = Sample.median(x);
    double theirs = Sample.median(others);
    double spread =
        1.4826
            * Sample.median(
                DoubleStream.concat(
                        Arrays.stream(x).map(v -> Math.abs(v - middle)),
                        Arrays.stream(others).map(v -> Math.abs(v - theirs)))
                    .toArray());
    double[] z = new double[x.length];
    for (int i = 0; i < x.length; i++) z[i] = spread > 0 ? (x[i] - middle) / spread : 0;
    return z;
  }

  /** The polished effects, anchored at the control units. */
  private record Fit(
      double common,
      double model,
      List<Effect> devices,
      List<Effect> sessions,
      List<Effect> stretches,
      double spread) {}

  private Fit fit() {
    List<String> keys = candidate.paired();
    List<String> units = new ArrayList<>(candidate.units());
    List<double[]> cells = new ArrayList<>();
    for (int u = 0; u < units.size(); u++)
      for (int s = 0; s < keys.size(); s++) {
        Optional<double[]> row = candidate.row(keys.get(s), units.get(u));
        if (row.isEmpty()) continue;
        double[] before = baseline.middle(units.get(u), candidate.isControl(units.get(u)));
        for (int p = 0; p < before.length; p++)
          cells.add(new double[] {u, s, p, row.get()[p] - before[p]});
      }
    return polished(cells, units, keys);
  }

  private Fit polished(List<double[]> cells, List<String> units, List<String> keys) {
    if (cells.isEmpty()) return new Fit(0, 0, List.of(), List.of(), List.of(), 0);
    int[][] levels = new int[3][cells.size()];
    double[] values = new double[cells.size()];
    for (int i = 0; i < values.length; i++) {
      for (int f = 0; f < 3; f++) levels[f][i] = (int) cells.get(i)[f];
      values[i] = cells.get(i)[3];
    }
    MedianPolish polish =
        MedianPolish.of(values, levels, units.size(), keys.size(), stretches.size());
    double[] device = polish.effects().get(0);
    double anchor = median(device, units, true);
    List<Effect> devices = new ArrayList<>();
    for (int u = 0; u < units.size(); u++)
      devices.add(new Effect(units.get(u), device[u] - anchor));
    return new Fit(
        polish.overall() + anchor,
        median(device, units, false) - anchor,
        devices,
        effects(keys, polish.effects().get(1)),
        effects(
            stretches.stream().map(s -> Math.round(s.fromM()) + "-" + Math.round(s.toM())).toList(),
            polish.effects().get(2)),
        polish.residualSpread());
  }

  private double median(double[] device, List<String> units, boolean control) {
    double[] of = new double[device.length];
    int n = 0;
    for (int u = 0; u < device.length; u++)
      if (candidate.isControl(units.get(u)) == control) of[n++] = device[u];
    return n == 0 ? 0 : Sample.median(Arrays.copyOf(of, n));
  }

  private static List<Effect> effects(List<String> names, double[] points) {
    List<Effect> all = new ArrayList<>();
    for (int i = 0; i < points.length; i++) all.add(new Effect(names.get(i), points[i]));
    return all;
  }

  /**
   * The excess of one side of the comparison by session, unit and stretch, in percent.
   *
   * @param rows by session, then unit
   * @param controls which units are controls
   * @param paired sessions in which both the model and a control were carried, in order of start
   */
  private record Side(
      Map<String, Map<String, double[]>> rows, Set<String> controls, List<String> paired) {
    static Side of(Collection<PlacedPass> passes, List<Stretch> stretches) {
      Map<String, Map<String, List<PlacedPass>>> groups = new TreeMap<>();
      Map<java.time.Instant, Set<String>> order = new TreeMap<>();
      Set<String> controls = new TreeSet<>();
      for (PlacedPass p : passes) {
        groups
            .computeIfAbsent(p.session(), k -> new TreeMap<>())
            .computeIfAbsent(p.unit(), k -> new ArrayList<>())
            .add(p);
        order.computeIfAbsent(p.start(), k -> new TreeSet<>()).add(p.session());
        if (p.control()) controls.add(p.unit());
      }
      Map<String, Map<String, double[]>> rows = new TreeMap<>();
      groups.forEach(
          (session, units) -> {
            Map<String, double[]> each = new TreeMap<>();
            units.forEach((unit, of) -> each.put(unit, percent(of, stretches)));
            rows.put(session, each);
          });
      Set<String> inOrder = new java.util.LinkedHashSet<>();
      order.values().forEach(inOrder::addAll);
      List<String> paired =
          inOrder.stream()
              .filter(
                  s -> {
                    Set<String> units = groups.getOrDefault(s, Map.of()).keySet();
                    return units.stream().anyMatch(controls::contains)
                        && units.stream().anyMatch(u -> !controls.contains(u));
                  })
              .toList();
      return new Side(rows, controls, paired);
    }

    private static double[] percent(List<PlacedPass> passes, List<Stretch> stretches) {
      int bins = passes.get(0).bins();
      double[] mean = SessionMeans.of(passes, bins).values().iterator().next();
      double[] percent = new double[stretches.size()];
      for (int p = 0; p < percent.length; p++) {
        Stretch s = stretches.get(p);
        int from = (int) Math.round(s.fromM() / PlacedPass.BIN_M);
        int to = Math.min(bins, (int) Math.ceil(s.toM() / PlacedPass.BIN_M));
        for (int bin = from; bin < to; bin++) percent[p] += 100 * mean[bin] / (s.toM() - s.fromM());
      }
      return percent;
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

    /** The middle of a unit's sessions by stretch; of its like, where it has none here. */
    double[] middle(String unit, boolean control) {
      List<double[]> own = new ArrayList<>();
      List<double[]> like = new ArrayList<>();
      int stretches = 0;
      for (Map<String, double[]> units : rows.values())
        for (Map.Entry<String, double[]> e : units.entrySet()) {
          stretches = e.getValue().length;
          if (e.getKey().equals(unit)) own.add(e.getValue());
          if (isControl(e.getKey()) == control) like.add(e.getValue());
        }
      List<double[]> of = own.isEmpty() ? like : own;
      double[] middle = new double[stretches];
      for (int p = 0; p < stretches && !of.isEmpty(); p++) {
        int place = p;
        middle[p] = Sample.median(of.stream().mapToDouble(r -> r[place]).toArray());
      }
      return middle;
    }

    double[] model() {
      return paired.stream().mapToDouble(s -> whole(s, false)).toArray();
    }

    double[] control() {
      return paired.stream().mapToDouble(s -> whole(s, true)).toArray();
    }

    double[] difference() {
      return paired.stream().mapToDouble(s -> whole(s, false) - whole(s, true)).toArray();
    }

    double[] beyond(int p, boolean control) {
      return paired.stream()
          .mapToDouble(s -> group(s, control)[p] - Sample.median(group(s, control)))
          .toArray();
    }

    private double whole(String session, boolean control) {
      return Sample.median(group(session, control));
    }

    private double[] group(String session, boolean control) {
      return SessionMeans.mean(
          rows.getOrDefault(session, Map.of()).entrySet().stream()
              .filter(e -> isControl(e.getKey()) == control)
              .map(Map.Entry::getValue)
              .toList());
    }
  }
}
