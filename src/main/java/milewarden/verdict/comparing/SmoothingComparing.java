package milewarden.verdict.comparing;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import milewarden.statistics.Contrast;
import milewarden.statistics.LeastSquares;
import milewarden.statistics.Order;
import milewarden.verdict.Condition;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.SmoothingChange;
import milewarden.verdict.SmoothingLag;
import milewarden.verdict.figures.Evidence;

/**
 * Whether a release smooths positions more or less than the one before: one figure per session, the
 * same units in the same conditions, conditions as blocks, least squares.
 *
 * <p>Conditions differ in how much their bends tell: running round a track tells fifty times as
 * much as walking wide bends. Each weighs by the square of the typical width of its passes'
 * intervals, taken of the square of the lag, since it is that which an offset in a bend shows: its
 * width hardly depends on the lag.
 */
public final class SmoothingComparing {
  // Half of what matters in one pass (fingerprint.Bends); common practice, no source. A noisier
  // release shows up to 0.7 s more where nothing smooths, because no pass shows less than 0: seen
  // on simulated tracks with 1.5 and 3 m of noise.
  private static final double WORTH_TELLING_S = 1;

  private final Map<Long, SmoothingLag> lags;
  private final Policy policy;
  private final Map<Condition, Double> weights;
  private final List<Session> before;
  private final List<Session> after;

  private SmoothingComparing(
      List<PassEvidence> candidate,
      List<PassEvidence> baseline,
      Map<Long, SmoothingLag> lags,
      Policy policy) {
    this.lags = lags;
    this.policy = policy;
    List<PassEvidence> c = telling(candidate);
    List<PassEvidence> b = telling(baseline);
    Set<String> units = common(c, b, PassEvidence::unit);
    Set<Condition> conditions = common(c, b, PassEvidence::condition);
    c.removeIf(p -> !units.contains(p.unit()) || !conditions.contains(p.condition()));
    b.removeIf(p -> !units.contains(p.unit()) || !conditions.contains(p.condition()));
    weights = weights(c, b);
    after = sessions(c);
    before = sessions(b);
  }

  /**
   * By the last look that the candidate has sessions for: what it finds takes the place of what one
   * before it found.
   *
   * @param candidate passes of whole sessions of the later release; excluded ones don't count
   * @param baseline the same of the release before
   * @param lags by result
   * @return empty before the first look, with too thin a baseline, where no unit or no condition is
   *     common, or where the policy asks for none
   */
  public static Optional<SmoothingChange> of(
      List<PassEvidence> candidate,
      List<PassEvidence> baseline,
      Map<Long, SmoothingLag> lags,
      Policy policy) {
    if (policy.smoothingAlpha() <= 0 || candidate.isEmpty() || baseline.isEmpty())
      return Optional.empty();
    return new SmoothingComparing(candidate, baseline, lags, policy)
        .compare(candidate.get(0).firmware(), baseline.get(0).firmware());
  }

  private List<PassEvidence> telling(List<PassEvidence> passes) {
    List<PassEvidence> of = new ArrayList<>();
    for (PassEvidence p : passes)
      if (p.exclusion().isEmpty() && lags.containsKey(p.resultId())) of.add(p);
    return of;
  }

  private static <T> Set<T> common(
      List<PassEvidence> c,
      List<PassEvidence> b,
      java.util.function.Function<PassEvidence, T> what) {
    Set<T> both = c.stream().map(what).collect(Collectors.toSet());
    both.retainAll(b.stream().map(what).collect(Collectors.toSet()));
    return both;
  }

  // Passes without one were left out before.
  private SmoothingLag lag(PassEvidence pass) {
    return Objects.requireNonNull(lags.get(pass.resultId()));
  }

  private Map<Condition, Double> weights(List<PassEvidence> c, List<PassEvidence> b) {
    Map<Condition, List<Double>> widths = new LinkedHashMap<>();
    for (List<PassEvidence> side : List.of(c, b))
      for (PassEvidence p : side) {
        SmoothingLag lag = lag(p);
        double width = lag.highS() * lag.highS() - lag.lowS() * lag.lowS();
        widths.computeIfAbsent(p.condition(), k -> new ArrayList<>()).add(width);
      }
    Map<Condition, Double> weights = new TreeMap<>(Evidence.BY_CONDITION);
    widths.forEach(
        (condition, all) -> {
          double typical =
              Order.quantile(all.stream().mapToDouble(Double::doubleValue).sorted().toArray(), 0.5);
          if (typical > 0) weights.put(condition, 1 / (typical * typical));
        });
    return weights;
  }

  /**
   * One outing under one release.
   *
   * @param lagS mean of its conditions' figures by their weights
   * @param shares of the weight, by condition
   * @param weight of all its conditions
   * @param filtered true where a pass settles that there is a lag
   */
  private record Session(
      PassEvidence first,
      double lagS,
      Map<Condition, Double> shares,
      double weight,
      boolean filtered,
      List<Long> results) {}

  private List<Session> sessions(List<PassEvidence> passes) {
    Map<String, List<PassEvidence>> by = new LinkedHashMap<>();
    for (PassEvidence p : passes)
      if (weights.containsKey(p.condition()))
        by.computeIfAbsent(p.session(), k -> new ArrayList<>()).add(p);
    return by.values().stream()
        .map(this::session)
        .sorted(
            Comparator.comparing((Session s) -> s.first().sessionStart())
                .thenComparing(s -> s.first().session()))
        .toList();
  }

  private Session session(List<PassEvidence> passes) {
    Map<Condition, Map<String, List<Double>>> cells = new TreeMap<>(Evidence.BY_CONDITION);
    for (PassEvidence p : passes)
      cells
          .computeIfAbsent(p.condition(), k -> new TreeMap<>())
          .computeIfAbsent(p.unit(), k -> new ArrayList<>())
          .add(lag(p).seconds());
    double weight = 0;
    for (Condition c : cells.keySet()) weight += weights.getOrDefault(c, 0.0);
    double sum = 0;
    Map<Condition, Double> shares = new TreeMap<>(Evidence.BY_CONDITION);
    for (Map.Entry<Condition, Map<String, List<Double>>> cell : cells.entrySet()) {
      double share = weights.getOrDefault(cell.getKey(), 0.0) / weight;
      shares.put(cell.getKey(), share);
      sum += share * mean(cell.getValue().values().stream().map(SmoothingComparing::mean).toList());
    }
    boolean filtered = passes.stream().anyMatch(p -> lag(p).lowS() > 0);
    List<Long> results = passes.stream().map(PassEvidence::resultId).sorted().toList();
    return new Session(passes.get(0), sum, shares, weight, filtered, results);
  }

  private static double mean(Collection<Double> values) {
    return values.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
  }

  private Optional<SmoothingChange> compare(String candidate, String baseline) {
    int look = -1;
    for (int i = 0; i < policy.looks().size(); i++)
      if (after.size() >= policy.looks().get(i).sessions()) look = i;
    if (look < 0 || before.size() < policy.insufficientSessions()) return Optional.empty();
    List<Session> seen = after.subList(0, policy.looks().get(look).sessions());
    // Each look takes an even share: over all of them together no more than alpha (Bonferroni).
    double alpha = policy.smoothingAlpha() / policy.looks().size();
    return contrast(seen)
        .map(
            k -> {
              double half = k.halfWidth(0.95);
              // No pass shows less than 0: what is shown without a filter is too much, by all of it
              // at most.
              double tooLow = filtered(before) ? 0 : lag(before);
              double tooHigh = filtered(seen) ? 0 : lag(seen);
              return new SmoothingChange(
                  candidate,
                  baseline,
                  seen.size(),
                  before.size(),
                  lag(seen),
                  lag(before),
                  k.estimate(),
                  k.estimate() - half - tooHigh,
                  k.estimate() + half + tooLow,
                  k.p(),
                  alpha,
                  changed(k, alpha, k.estimate() > 0 ? seen : before),
                  Optional.empty(),
                  seen.stream().flatMap(s -> s.results().stream()).sorted().toList());
            });
  }

  /** Large enough, no chance, and a filter is seen where there is said to be more of it. */
  private static boolean changed(Contrast k, double alpha, List<Session> more) {
    return Math.abs(k.estimate()) >= WORTH_TELLING_S && k.p() < alpha && filtered(more);
  }

  private static boolean filtered(List<Session> sessions) {
    return 2 * sessions.stream().filter(Session::filtered).count() > sessions.size();
  }

  private static double lag(List<Session> sessions) {
    double sum = 0;
    double weight = 0;
    for (Session s : sessions) {
      sum += s.weight() * s.lagS();
      weight += s.weight();
    }
    return sum / weight;
  }

  /** Rows by the root of their weights: sessions whose bends tell less count less. */
  private Optional<Contrast> contrast(List<Session> seen) {
    List<Session> all = new ArrayList<>(seen);
    all.addAll(before);
    List<Condition> conditions = List.copyOf(weights.keySet());
    double[] y = new double[all.size()];
    double[] firmware = new double[all.size()];
    double[][] blocks = new double[conditions.size()][all.size()];
    double most = all.stream().mapToDouble(Session::weight).max().orElseThrow();
    for (int i = 0; i < y.length; i++) {
      Session s = all.get(i);
      double root = Math.sqrt(s.weight() / most);
      y[i] = root * s.lagS();
      for (int k = 0; k < blocks.length; k++)
        blocks[k][i] = root * s.shares().getOrDefault(conditions.get(k), 0.0);
      if (i < seen.size()) firmware[i] = root;
    }
    return LeastSquares.coefficient(y, blocks, firmware);
  }
}
