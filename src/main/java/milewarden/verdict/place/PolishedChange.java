package milewarden.verdict.place;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import milewarden.statistics.MedianPolish;
import milewarden.statistics.Sample;
import milewarden.verdict.place.DeviceDayCourse.Effect;
import milewarden.verdict.place.DeviceDayCourse.Place;

/**
 * The effects of device, session and place on the change from baseline to candidate, by median
 * polish and anchored at the control units, so that one wild cell moves none.
 *
 * @param common what moved the control units too, points
 * @param model the model's own change, points
 * @param spread of what no effect explains, points
 * @see "Tukey (1977), Exploratory Data Analysis: median polish"
 */
record PolishedChange(
    double common,
    double model,
    List<Effect> devices,
    List<Effect> sessions,
    List<Effect> places,
    double spread) {

  /**
   * Of the sessions that the candidate shares with its control units; the baseline's middles are
   * what they changed from.
   */
  static PolishedChange of(Side candidate, Side baseline, List<Place> places) {
    List<String> keys = candidate.paired();
    List<String> units = new ArrayList<>(candidate.units());
    List<double[]> cells = new ArrayList<>();
    for (int u = 0; u < units.size(); u++)
      for (int s = 0; s < keys.size(); s++) {
        Optional<double[]> row = candidate.row(keys.get(s), units.get(u));
        if (row.isEmpty()) continue;
        double[] before = baseline.middle(units.get(u), candidate.isControl(units.get(u)));
        for (int p = 0; p < before.length; p++) {
          double change = row.get()[p] - before[p];
          if (!Double.isNaN(change)) cells.add(new double[] {u, s, p, change});
        }
      }
    return polished(cells, units, keys, candidate, places);
  }

  private static PolishedChange polished(
      List<double[]> cells,
      List<String> units,
      List<String> keys,
      Side candidate,
      List<Place> places) {
    if (cells.isEmpty()) return new PolishedChange(0, 0, List.of(), List.of(), List.of(), 0);
    int[][] levels = new int[3][cells.size()];
    double[] values = new double[cells.size()];
    for (int i = 0; i < values.length; i++) {
      for (int f = 0; f < 3; f++) levels[f][i] = (int) cells.get(i)[f];
      values[i] = cells.get(i)[3];
    }
    MedianPolish polish = MedianPolish.of(values, levels, units.size(), keys.size(), places.size());
    double[] device = polish.effects().get(0);
    double anchor = median(device, units, candidate, true);
    List<Effect> devices = new ArrayList<>();
    for (int u = 0; u < units.size(); u++)
      devices.add(new Effect(units.get(u), device[u] - anchor));
    return new PolishedChange(
        polish.overall() + anchor,
        median(device, units, candidate, false) - anchor,
        devices,
        effects(keys, polish.effects().get(1)),
        effects(places.stream().map(Place::name).toList(), polish.effects().get(2)),
        polish.residualSpread());
  }

  private static double median(
      double[] device, List<String> units, Side candidate, boolean control) {
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
}
