package milewarden.verdict.figures;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.statistics.LeastSquares;
import milewarden.verdict.Condition;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.SessionFigure;

/**
 * The mean error of a release session by session: what it was after so many is found from what it
 * was before, without another walk over all passes.
 */
final class GrowingMean {
  private final Evidence all;
  private final Optional<UnitVariance> unit;
  private final List<Condition> conditions = new ArrayList<>();
  // By condition: how many sessions hold it, and the sums of their means, lows and highs.
  private final List<double[]> sums = new ArrayList<>();
  // By session: the places of its conditions.
  private final List<int[]> places = new ArrayList<>();
  // Sessions with the same conditions are the same row of shares, and add nothing to its rank.
  private final Set<List<Integer>> rows = new HashSet<>();
  private final Set<String> units = new HashSet<>();
  private final Map<String, Double> ofCourse = new HashMap<>();
  private int passes;
  private int rankOf;
  private int rank;

  GrowingMean(Evidence all, Optional<UnitVariance> unit) {
    this.all = all;
    this.unit = unit;
  }

  /** Takes one more session in. */
  void next() {
    SessionFigure s = all.sessions().get(places.size());
    int[] at = new int[s.conditions().size()];
    List<Integer> row = new ArrayList<>(at.length);
    for (int i = 0; i < at.length; i++) {
      SessionFigure.OfCondition c = s.conditions().get(i);
      at[i] = place(c.condition());
      row.add(at[i]);
      double[] sum = sums.get(at[i]);
      sum[0]++;
      sum[1] += c.meanPercent();
      sum[2] += c.range().low();
      sum[3] += c.range().high();
    }
    places.add(at);
    rows.add(row);
    Condition before = null;
    double most = Double.NaN;
    for (PassEvidence p : all.ofSession(passes, s)) {
      passes++;
      units.add(p.unit());
      // Passes of one condition lie together, and many have one uncertainty.
      double u = p.referenceStandardUncertaintyPercent();
      if (p.condition() == before && u == most) continue;
      before = p.condition();
      most = u;
      ofCourse.merge(before.course(), u, Math::max);
    }
  }

  int sessions() {
    return places.size();
  }

  private int place(Condition condition) {
    int at = conditions.indexOf(condition);
    if (at >= 0) return at;
    conditions.add(condition);
    sums.add(new double[4]);
    return sums.size() - 1;
  }

  /** Of the sessions taken in, one or more. */
  MeanError soFar() {
    double[] m = new double[4];
    double[] means = new double[sums.size()];
    double[] weights = new double[sums.size()];
    for (int c = 0; c < means.length; c++) {
      double[] sum = sums.get(c);
      for (int i = 1; i < 4; i++) m[i] += sum[i] / sum[0] / means.length;
      means[c] = sum[1] / sum[0];
      weights[c] = 1 / (sum[0] * means.length);
    }
    double squares = 0;
    double leverage = 0;
    for (int i = 0; i < places.size(); i++) {
      int[] at = places.get(i);
      double expected = 0;
      double weight = 0;
      for (int c : at) {
        expected += means[c] / at.length;
        weight += weights[c];
      }
      double r = all.sessions().get(i).meanPercent() - expected;
      squares += r * r;
      // An outing's conditions share its sky, so their weights add up before they are squared.
      leverage += weight * weight;
    }
    double df = (double) places.size() - rank();
    return new MeanError(
        m[1],
        Math.min(m[2], m[3]),
        Math.max(m[2], m[3]),
        places.size(),
        df < 1 ? Double.NaN : squares / df,
        df,
        leverage,
        unit,
        units.size(),
        Evidence.referenceVariance(ofCourse, conditions));
  }

  /** Of the sessions' shares of the conditions. */
  private int rank() {
    if (rankOf == rows.size()) return rank;
    double[][] columns = new double[conditions.size()][rows.size()];
    int i = 0;
    for (List<Integer> row : rows) {
      for (int c : row) columns[c][i] = 1.0 / row.size();
      i++;
    }
    rankOf = rows.size();
    rank = LeastSquares.rank(columns, rankOf);
    return rank;
  }
}
