package milewarden.verdict.comparing;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.statistics.Contrast;
import milewarden.verdict.Condition;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;

/**
 * What the control units read in each session, on one scale: of the control that was carried in
 * most sessions of a course; another is set off by what the sessions tell in which both were
 * carried. A control whose firmware or carriage was changed is another control.
 *
 * @param figures by session and place
 * @param offsets standard error of the offset that a place's other controls carry; 0 where none
 */
record Controls(Map<String, Map<Controls.Place, Figure>> figures, Map<Place, Double> offsets) {
  /** Where the control's error is comparable with itself. The tested unit may be worn otherwise. */
  record Place(String course, String courseVersion, Gait gait) {
    static Place of(Condition c) {
      return new Place(c.course(), c.courseVersion(), c.gait());
    }
  }

  private record Identity(String unit, String firmware, Carriage carriage, String settings)
      implements Comparable<Identity> {
    private static final Comparator<Identity> ORDER =
        Comparator.comparing(Identity::unit)
            .thenComparing(Identity::firmware)
            .thenComparing(Identity::carriage)
            .thenComparing(Identity::settings);

    static Identity of(PassEvidence p) {
      return new Identity(
          p.unit(), p.firmware(), p.condition().carriage(), p.condition().settings());
    }

    @Override
    public int compareTo(Identity other) {
      return ORDER.compare(this, other);
    }
  }

  /** The control's error; moved where it is another control's, set off. */
  record Figure(double percent, boolean moved) {}

  static final Controls NONE = new Controls(Map.of(), Map.of());

  static Controls of(Collection<PassEvidence> passes, Policy policy) {
    if (passes.isEmpty()) return NONE;
    Source source = Source.choose(List.of(passes), policy.materialChangePercent(), policy).source();
    Map<Place, Map<Identity, List<PassEvidence>>> there = new HashMap<>();
    for (PassEvidence p : passes)
      there
          .computeIfAbsent(Place.of(p.condition()), k -> new TreeMap<>())
          .computeIfAbsent(Identity.of(p), k -> new ArrayList<>())
          .add(p);
    Controls all = new Controls(new HashMap<>(), new HashMap<>());
    there.forEach((place, controls) -> all.add(place, controls, source, policy));
    return all;
  }

  private void add(
      Place place, Map<Identity, List<PassEvidence>> of, Source source, Policy policy) {
    Map<Identity, Evidence> evidence = new TreeMap<>();
    of.forEach((who, passes) -> evidence.put(who, Evidence.of(source, passes)));
    // The first of those with most sessions, in an order of their own.
    Map.Entry<Identity, Evidence> main =
        evidence.entrySet().stream()
            .reduce(
                (a, b) -> b.getValue().sessions().size() > a.getValue().sessions().size() ? b : a)
            .orElseThrow();
    double error = 0;
    for (Map.Entry<Identity, Evidence> e : evidence.entrySet()) {
      boolean moved = !e.getKey().equals(main.getKey());
      Optional<Contrast> offset =
          moved
              ? Reanchoring.offset(
                  source,
                  e.getValue().passes(),
                  main.getValue().passes(),
                  p -> Place.of(p.condition()),
                  policy.reanchorSessions())
              : Optional.empty();
      if (moved && offset.isEmpty()) continue;
      double by = offset.map(Contrast::estimate).orElse(0.0);
      error = Math.max(error, offset.map(Contrast::standardError).orElse(0.0));
      e.getValue()
          .sessions()
          .forEach(
              s ->
                  figures
                      .computeIfAbsent(s.session(), k -> new HashMap<>())
                      .merge(
                          place,
                          new Figure(s.meanPercent() - by, moved),
                          // The main control's own reading goes before another's.
                          (old, next) -> old.moved() && !next.moved() ? next : old));
    }
    offsets.put(place, error);
  }

  /** The control's figure beside this condition of this session; empty where none was carried. */
  Optional<Figure> beside(String session, Condition condition) {
    Map<Place, Figure> of = figures.get(session);
    return of == null ? Optional.empty() : Optional.ofNullable(of.get(Place.of(condition)));
  }

  /** The largest standard error of an offset. */
  double offsetError() {
    double largest = 0;
    for (double e : offsets.values()) largest = Math.max(largest, e);
    return largest;
  }
}
