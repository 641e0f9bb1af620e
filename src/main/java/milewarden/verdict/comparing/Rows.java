package milewarden.verdict.comparing;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.verdict.Condition;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.figures.Evidence;

/**
 * One row per session for the least squares: its error, its share of each block, its control.
 *
 * @param y errors, the candidate's rows first
 * @param candidates how many of the rows are the candidate's
 * @param blocks one column per kind of session that is alike
 * @param control NaN where none was carried
 * @param moved rows whose control is another one, set off
 */
record Rows(double[] y, int candidates, double[][] blocks, double[] control, boolean[] moved) {

  /** Of whole sessions. */
  static Rows of(Evidence c, Evidence b, Controls controls, double offset) {
    List<Row> rows = new ArrayList<>();
    for (SessionFigure s : c.sessions())
      rows.add(new Row(s, s.meanPercent() - offset, s.conditions()));
    for (SessionFigure s : b.sessions()) rows.add(new Row(s, s.meanPercent(), s.conditions()));
    return of(rows, c.sessions().size(), controls);
  }

  /** Of one condition of the sessions that hold it. */
  static Rows of(Evidence c, Evidence b, Condition only, Controls controls, double offset) {
    List<Row> rows = new ArrayList<>();
    cells(c, only, offset, rows);
    int candidates = rows.size();
    cells(b, only, 0, rows);
    return of(rows, candidates, controls);
  }

  private record Row(SessionFigure session, double y, List<SessionFigure.OfCondition> cells) {}

  private static void cells(Evidence e, Condition only, double offset, List<Row> rows) {
    for (SessionFigure s : e.sessions())
      for (SessionFigure.OfCondition cell : s.conditions())
        if (cell.condition().equals(only))
          rows.add(new Row(s, cell.meanPercent() - offset, List.of(cell)));
  }

  private static Rows of(List<Row> rows, int candidates, Controls controls) {
    int n = rows.size();
    double[] y = new double[n];
    double[] x = new double[n];
    boolean[] moved = new boolean[n];
    Map<Like, double[]> blocks = new LinkedHashMap<>();
    for (int i = 0; i < n; i++) {
      Row row = rows.get(i);
      y[i] = row.y();
      double share = 1.0 / row.cells().size();
      for (SessionFigure.OfCondition cell : row.cells()) {
        blocks.computeIfAbsent(Like.of(cell), k -> new double[n])[i] = share;
        Optional<Controls.Figure> f = controls.beside(row.session().session(), cell.condition());
        x[i] += f.map(Controls.Figure::percent).orElse(Double.NaN) * share;
        moved[i] |= f.isPresent() && f.get().moved();
      }
    }
    return new Rows(y, candidates, blocks.values().toArray(double[][]::new), x, moved);
  }

  int size() {
    return y.length;
  }

  int baselines() {
    return y.length - candidates;
  }

  /** 1 in the candidate's rows. */
  double[] firmware() {
    double[] column = new double[y.length];
    Arrays.fill(column, 0, candidates, 1);
    return column;
  }

  /** Those beside which a control was carried. */
  Rows paired() {
    int[] kept = new int[y.length];
    int n = 0;
    int c = 0;
    for (int i = 0; i < y.length; i++)
      if (!Double.isNaN(control[i])) {
        if (i < candidates) c++;
        kept[n++] = i;
      }
    if (n == y.length) return this;
    double[][] columns = new double[blocks.length][];
    for (int k = 0; k < columns.length; k++) columns[k] = take(blocks[k], kept, n);
    boolean[] m = new boolean[n];
    for (int i = 0; i < n; i++) m[i] = moved[kept[i]];
    return new Rows(take(y, kept, n), c, columns, take(control, kept, n), m);
  }

  private static double[] take(double[] all, int[] kept, int n) {
    double[] some = new double[n];
    for (int i = 0; i < n; i++) some[i] = all[kept[i]];
    return some;
  }

  /** Share of re-anchored controls among the candidate's rows less that among the baseline's. */
  double movedApart() {
    double c = 0;
    double b = 0;
    for (int i = 0; i < y.length; i++)
      if (moved[i]) {
        if (i < candidates) c++;
        else b++;
      }
    return c / Math.max(1, candidates) - b / Math.max(1, baselines());
  }
}
