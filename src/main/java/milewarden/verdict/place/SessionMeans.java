package milewarden.verdict.place;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** Excess by place of whole sessions: a session is one piece of evidence, as everywhere. */
final class SessionMeans {
  private SessionMeans() {}

  /** One row of bins per session, in order of their keys. */
  static Map<String, double[]> of(Collection<PlacedPass> passes, int bins) {
    Map<String, List<PlacedPass>> bySession = new TreeMap<>();
    for (PlacedPass p : passes)
      bySession.computeIfAbsent(p.session(), k -> new ArrayList<>()).add(p);
    Map<String, double[]> rows = new TreeMap<>();
    bySession.forEach((session, of) -> rows.put(session, mean(of, bins)));
    return rows;
  }

  /** Passes within direction, directions within unit and condition, those by a plain mean. */
  private static double[] mean(List<PlacedPass> passes, int bins) {
    Map<String, Map<String, List<double[]>>> cells = new TreeMap<>();
    for (PlacedPass p : passes)
      cells
          .computeIfAbsent(p.condition() + "/" + p.unit(), k -> new TreeMap<>())
          .computeIfAbsent(p.direction().name(), k -> new ArrayList<>())
          .add(row(p, bins));
    List<double[]> each = new ArrayList<>();
    for (Map<String, List<double[]>> directions : cells.values())
      each.add(mean(directions.values().stream().map(SessionMeans::mean).toList()));
    return mean(each);
  }

  private static double[] row(PlacedPass p, int bins) {
    double[] row = new double[bins];
    for (int i = 0; i < bins; i++) row[i] = p.excessM(i);
    return row;
  }

  static double[] mean(List<double[]> rows) {
    double[] mean = new double[rows.get(0).length];
    for (double[] row : rows) for (int i = 0; i < mean.length; i++) mean[i] += row[i] / rows.size();
    return mean;
  }
}
