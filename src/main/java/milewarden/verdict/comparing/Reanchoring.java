package milewarden.verdict.comparing;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import milewarden.statistics.Contrast;
import milewarden.statistics.Sample;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Source;

/**
 * By how much a unit reads other than the one it replaced: from sessions in which both were carried
 * together, on the same course, in the same direction, so that day and sky cancel.
 */
final class Reanchoring {
  private Reanchoring() {}

  /**
   * New minus old, one figure per session.
   *
   * @param alike what two passes of a session must have in common besides their direction
   * @param sessions so many joint sessions at least
   * @return empty where joint sessions are fewer
   */
  static Optional<Contrast> offset(
      Source source,
      Collection<PassEvidence> fresh,
      Collection<PassEvidence> old,
      Function<PassEvidence, Object> alike,
      int sessions) {
    Map<String, Map<List<Object>, List<PassError>>> before = cells(source, old, alike);
    List<Double> differences = new ArrayList<>();
    cells(source, fresh, alike)
        .forEach(
            (session, cells) -> {
              Map<List<Object>, List<PassError>> others = before.getOrDefault(session, Map.of());
              double sum = 0;
              int n = 0;
              for (Map.Entry<List<Object>, List<PassError>> cell : cells.entrySet()) {
                List<PassError> other = others.getOrDefault(cell.getKey(), List.of());
                if (other.isEmpty()) continue;
                sum += PassError.mean(cell.getValue()).asRead() - PassError.mean(other).asRead();
                n++;
              }
              if (n > 0) differences.add(sum / n);
            });
    if (differences.size() < Math.max(2, sessions)) return Optional.empty();
    Sample d = Sample.of(differences.stream().mapToDouble(Double::doubleValue).toArray());
    return Optional.of(new Contrast(d.mean(), d.sd() / Math.sqrt(d.n()), d.n() - 1.0));
  }

  private static Map<String, Map<List<Object>, List<PassError>>> cells(
      Source source, Collection<PassEvidence> passes, Function<PassEvidence, Object> alike) {
    Map<String, Map<List<Object>, List<PassError>>> cells = new TreeMap<>();
    for (PassEvidence p : passes) {
      Optional<PassError> e = PassError.of(p, source);
      if (p.exclusion().isPresent() || e.isEmpty()) continue;
      cells
          .computeIfAbsent(p.session(), k -> new HashMap<>())
          .computeIfAbsent(List.of(alike.apply(p), p.direction()), k -> new ArrayList<>())
          .add(e.get());
    }
    return cells;
  }
}
