package milewarden.verdict.figures;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import milewarden.course.Direction;
import milewarden.verdict.Condition;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;

/**
 * Passes of one release, judged by one source and gathered into sessions.
 *
 * @param passes that count and carry the source, in order of their sessions
 * @param sessions in order of start
 */
public record Evidence(Source source, List<PassEvidence> passes, List<SessionFigure> sessions) {
  /** Conditions in an order of their own, so that sums do not depend on the order of arrival. */
  public static final Comparator<Condition> BY_CONDITION =
      Comparator.comparing(Condition::course)
          .thenComparing(Condition::courseVersion)
          .thenComparing(Condition::site)
          .thenComparing(Condition::carriage)
          .thenComparing(Condition::gait)
          .thenComparing(Condition::settings);

  private static final Comparator<PassEvidence> ORDER =
      Comparator.comparing(PassEvidence::sessionStart)
          .thenComparing(PassEvidence::session)
          .thenComparing(PassEvidence::condition, BY_CONDITION)
          .thenComparing(PassEvidence::unit)
          .thenComparing(PassEvidence::direction)
          .thenComparing(PassEvidence::resultId);

  /** Leaves out the excluded passes and those that lack the source. */
  public static Evidence of(Source source, Collection<PassEvidence> passes) {
    List<PassEvidence> counted =
        passes.stream()
            .filter(p -> p.exclusion().isEmpty() && PassError.of(p, source).isPresent())
            .sorted(ORDER)
            .toList();
    return gather(source, counted);
  }

  /** From passes that count, in order. */
  private static Evidence gather(Source source, List<PassEvidence> counted) {
    Map<String, List<PassEvidence>> bySession = new LinkedHashMap<>();
    for (PassEvidence p : counted)
      bySession.computeIfAbsent(p.session(), k -> new ArrayList<>()).add(p);
    List<SessionFigure> sessions = new ArrayList<>();
    bySession.forEach((key, of) -> sessions.add(session(key, of, source)));
    sessions.sort(Comparator.comparing(SessionFigure::start).thenComparing(SessionFigure::session));
    return new Evidence(source, counted, List.copyOf(sessions));
  }

  private static SessionFigure session(String key, List<PassEvidence> passes, Source source) {
    Map<Condition, List<PassEvidence>> byCondition = new LinkedHashMap<>();
    for (PassEvidence p : passes)
      byCondition.computeIfAbsent(p.condition(), k -> new ArrayList<>()).add(p);
    List<SessionFigure.OfCondition> cells = new ArrayList<>();
    List<PassError> means = new ArrayList<>();
    byCondition.forEach(
        (condition, of) -> {
          PassError mean = unitsThenDirections(of, source);
          means.add(mean);
          boolean oneDirection = of.stream().map(PassEvidence::direction).distinct().count() == 1;
          cells.add(
              new SessionFigure.OfCondition(condition, mean.asRead(), mean.range(), oneDirection));
        });
    PassError mean = PassError.mean(means);
    PassEvidence first = passes.get(0);
    return new SessionFigure(
        key,
        passes.stream().map(PassEvidence::sessionStart).min(Instant::compareTo).orElseThrow(),
        first.date(),
        mean.asRead(),
        mean.range(),
        cells,
        List.copyOf(new TreeSet<>(passes.stream().map(PassEvidence::unit).toList())),
        passes.size(),
        passes.stream().map(PassEvidence::resultId).sorted().toList(),
        false);
  }

  /** Passes within direction, directions within unit, units: each level by a plain mean. */
  private static PassError unitsThenDirections(List<PassEvidence> passes, Source source) {
    Map<String, Map<Direction, List<PassError>>> cells = new LinkedHashMap<>();
    for (PassEvidence p : passes)
      cells
          .computeIfAbsent(p.unit(), k -> new LinkedHashMap<>())
          .computeIfAbsent(p.direction(), k -> new ArrayList<>())
          .add(PassError.of(p, source).orElseThrow());
    List<PassError> units = new ArrayList<>();
    for (Map<Direction, List<PassError>> directions : cells.values())
      units.add(PassError.mean(directions.values().stream().map(PassError::mean).toList()));
    return PassError.mean(units);
  }

  /** The part of it that the test takes. */
  public Evidence where(Predicate<PassEvidence> test) {
    return gather(source, passes.stream().filter(test).toList());
  }

  public Evidence in(Collection<Condition> conditions) {
    Set<Condition> wanted = Set.copyOf(conditions);
    if (wanted.containsAll(conditions())) return this;
    return where(p -> wanted.contains(p.condition()));
  }

  /** These of its sessions, whole: their figures stay as they are. */
  public Evidence ofSessions(List<SessionFigure> kept) {
    if (kept.size() == sessions.size()) return this;
    Set<String> keys = kept.stream().map(SessionFigure::session).collect(Collectors.toSet());
    List<PassEvidence> of = passes.stream().filter(p -> keys.contains(p.session())).toList();
    return new Evidence(source, of, List.copyOf(kept));
  }

  /** In order of the first session that holds it. */
  public List<Condition> conditions() {
    Set<Condition> all = new LinkedHashSet<>();
    for (SessionFigure s : sessions)
      for (SessionFigure.OfCondition c : s.conditions()) all.add(c.condition());
    return List.copyOf(all);
  }

  public Set<String> units() {
    return passes.stream().map(PassEvidence::unit).collect(Collectors.toCollection(TreeSet::new));
  }

  public List<Long> resultIds() {
    return passes.stream().map(PassEvidence::resultId).sorted().toList();
  }

  public boolean isEmpty() {
    return sessions.isEmpty();
  }

  public double[] means() {
    return sessions.stream().mapToDouble(SessionFigure::meanPercent).toArray();
  }

  /** One column per condition: the share that it has of each session. */
  public double[][] shares(List<Condition> conditions) {
    double[][] columns = new double[conditions.size()][sessions.size()];
    for (int i = 0; i < sessions.size(); i++) {
      List<SessionFigure.OfCondition> cells = sessions.get(i).conditions();
      for (SessionFigure.OfCondition cell : cells)
        columns[conditions.indexOf(cell.condition())][i] = 1.0 / cells.size();
    }
    return columns;
  }

  /**
   * u_ref squared of the mean with equal weight per condition, in squared percent: common to all
   * runs on a course, independent between courses.
   */
  public double referenceVariance() {
    Map<String, Double> ofCourse = new HashMap<>();
    for (PassEvidence p : passes)
      ofCourse.merge(p.condition().course(), p.referenceStandardUncertaintyPercent(), Math::max);
    List<Condition> conditions = conditions();
    Map<String, Double> weights = new LinkedHashMap<>();
    for (Condition c : conditions) weights.merge(c.course(), 1.0 / conditions.size(), Double::sum);
    double sum = 0;
    for (Map.Entry<String, Double> w : weights.entrySet()) {
      double u = w.getValue() * ofCourse.getOrDefault(w.getKey(), 0.0);
      sum += u * u;
    }
    return sum;
  }

  /** The coarsest display step in percent of its pass; 0 where nothing was shown. */
  public double stepPercent() {
    return passes.stream()
        .mapToDouble(
            p -> Double.isNaN(p.displayStepM()) ? 0 : 100 * p.displayStepM() / p.referenceM())
        .max()
        .orElse(0);
  }
}
