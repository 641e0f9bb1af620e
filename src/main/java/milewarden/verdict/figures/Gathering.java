package milewarden.verdict.figures;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.BiPredicate;
import java.util.function.Function;
import milewarden.course.Direction;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;

/**
 * Gathers ordered passes into sessions: passes averaged within direction, directions within unit,
 * units within condition, conditions within the session. Each level is a plain mean.
 */
final class Gathering {
  private Gathering() {}

  /** In order of start; the passes must come in {@link Evidence}'s order. */
  static List<SessionFigure> sessions(Source source, List<PassEvidence> ordered) {
    List<SessionFigure> sessions = new ArrayList<>();
    for (List<PassEvidence> of : runs(ordered, (a, b) -> a.session().equals(b.session())))
      sessions.add(session(source, of));
    sessions.sort(Comparator.comparing(SessionFigure::start).thenComparing(SessionFigure::session));
    return List.copyOf(sessions);
  }

  /** The figure of one session's passes, in {@link Evidence}'s order. */
  static double meanPercent(Source source, List<PassEvidence> ofSession) {
    return session(source, ofSession).meanPercent();
  }

  private static SessionFigure session(Source source, List<PassEvidence> passes) {
    List<SessionFigure.OfCondition> cells = new ArrayList<>();
    List<PassError> means = new ArrayList<>();
    for (List<PassEvidence> of : runs(passes, (a, b) -> a.condition().equals(b.condition()))) {
      PassError mean = mean(of, (a, b) -> a.unit().equals(b.unit()), unit -> ofUnit(source, unit));
      means.add(mean);
      cells.add(
          new SessionFigure.OfCondition(
              of.get(0).condition(), mean.asRead(), mean.range(), only(of)));
    }
    PassError mean = PassError.mean(means);
    TreeSet<String> units = new TreeSet<>();
    long[] results = new long[passes.size()];
    for (int i = 0; i < results.length; i++) {
      units.add(passes.get(i).unit());
      results[i] = passes.get(i).resultId();
    }
    PassEvidence first = passes.get(0);
    return new SessionFigure(
        first.session(),
        first.sessionStart(),
        first.date(),
        mean.asRead(),
        mean.range(),
        cells,
        List.copyOf(units),
        passes.size(),
        java.util.Arrays.stream(results).sorted().boxed().toList(),
        false);
  }

  private static PassError ofUnit(Source source, List<PassEvidence> unit) {
    return mean(
        unit,
        (a, b) -> a.direction() == b.direction(),
        way ->
            PassError.mean(way.stream().map(p -> PassError.of(p, source).orElseThrow()).toList()));
  }

  private static PassError mean(
      List<PassEvidence> passes,
      BiPredicate<PassEvidence, PassEvidence> alike,
      Function<List<PassEvidence>, PassError> of) {
    Collection<List<PassEvidence>> groups = runs(passes, alike);
    if (groups.size() == 1) return of.apply(passes);
    List<PassError> means = new ArrayList<>(groups.size());
    for (List<PassEvidence> group : groups) means.add(of.apply(group));
    return PassError.mean(means);
  }

  private static Optional<Direction> only(List<PassEvidence> passes) {
    Direction first = passes.get(0).direction();
    for (PassEvidence p : passes) if (p.direction() != first) return Optional.empty();
    return Optional.of(first);
  }

  /** Cuts an ordered list where neighbours differ. */
  private static List<List<PassEvidence>> runs(
      List<PassEvidence> ordered, BiPredicate<PassEvidence, PassEvidence> alike) {
    List<List<PassEvidence>> runs = new ArrayList<>();
    int from = 0;
    for (int i = 1; i <= ordered.size(); i++)
      if (i == ordered.size() || !alike.test(ordered.get(i - 1), ordered.get(i))) {
        runs.add(ordered.subList(from, i));
        from = i;
      }
    return runs;
  }
}
