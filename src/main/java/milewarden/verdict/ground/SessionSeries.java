package milewarden.verdict.ground;

import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import milewarden.statistics.MedianPolish;
import milewarden.statistics.Sample;
import milewarden.verdict.Condition;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Source;

/**
 * One value per session, in percent, in order of their starts; all lists alike.
 *
 * @param sessions their keys
 */
record SessionSeries(
    List<String> sessions, List<Instant> starts, List<LocalDate> dates, List<Double> percent) {
  static final SessionSeries NONE = new SessionSeries(List.of(), List.of(), List.of(), List.of());

  /** A device that can't be seen in more than one session says nothing of any session. */
  private static final int FEWEST = 2;

  SessionSeries {
    sessions = List.copyOf(sessions);
    starts = List.copyOf(starts);
    dates = List.copyOf(dates);
    percent = List.copyOf(percent);
  }

  int size() {
    return sessions.size();
  }

  double[] values() {
    return percent.stream().mapToDouble(v -> v).toArray();
  }

  /** Mean from a time on minus mean before it; empty with fewer than two sessions on a side. */
  OptionalDouble change(Instant from) {
    List<Double> before = new ArrayList<>();
    List<Double> after = new ArrayList<>();
    for (int i = 0; i < size(); i++)
      (starts.get(i).isBefore(from) ? before : after).add(percent.get(i));
    if (before.size() < FEWEST || after.size() < FEWEST) return OptionalDouble.empty();
    return OptionalDouble.of(
        CourseWatch.difference(
            before.stream().mapToDouble(v -> v).toArray(),
            after.stream().mapToDouble(v -> v).toArray()));
  }

  /** What a device is here: its row in the polish. */
  private record Device(String unit, String firmware, Condition condition) {}

  /** A device's mean in a session. */
  private record Cell(Device device, PassEvidence any, double percent) {}

  /** A unit's session effects, its conditions evened out. */
  static SessionSeries ofUnit(String unit, Collection<PassEvidence> passes) {
    return polished(cells(passes, p -> p.unit().equals(unit)), 1);
  }

  /** The session effects that all devices share; sessions with one device are left out. */
  static SessionSeries ofAll(Collection<PassEvidence> passes) {
    return polished(cells(passes, p -> true), 2);
  }

  private static SessionSeries polished(List<Cell> all, int fewestDevices) {
    Map<Device, List<Cell>> byDevice =
        all.stream()
            .collect(Collectors.groupingBy(Cell::device, LinkedHashMap::new, Collectors.toList()));
    List<Cell> cells = all.stream().filter(c -> size(byDevice, c) >= FEWEST).toList();
    Map<String, Long> devices =
        cells.stream()
            .collect(
                Collectors.groupingBy(
                    c -> c.any.session(),
                    Collectors.mapping(c -> c.device.unit(), Collectors.toSet())))
            .entrySet()
            .stream()
            .collect(Collectors.toMap(Map.Entry::getKey, e -> (long) e.getValue().size()));
    List<Cell> kept =
        cells.stream()
            .filter(c -> devices.getOrDefault(c.any.session(), 0L) >= fewestDevices)
            .toList();
    if (kept.isEmpty()) return NONE;
    return effects(kept);
  }

  private static int size(Map<Device, List<Cell>> byDevice, Cell c) {
    return byDevice.getOrDefault(c.device, List.of()).size();
  }

  private static SessionSeries effects(List<Cell> cells) {
    List<PassEvidence> sessions =
        new ArrayList<>(
            cells.stream()
                .map(Cell::any)
                .collect(
                    Collectors.toMap(
                        PassEvidence::session, Function.identity(), (a, b) -> a, TreeMap::new))
                .values());
    sessions.sort(
        Comparator.comparing(PassEvidence::sessionStart).thenComparing(PassEvidence::session));
    List<String> keys = sessions.stream().map(PassEvidence::session).toList();
    List<Device> devices = cells.stream().map(Cell::device).distinct().toList();
    double[] values = cells.stream().mapToDouble(Cell::percent).toArray();
    Map<Device, Integer> rowOf = places(devices);
    Map<String, Integer> columnOf = places(keys);
    int[][] levels = {
      cells.stream().mapToInt(c -> rowOf.getOrDefault(c.device, -1)).toArray(),
      cells.stream().mapToInt(c -> columnOf.getOrDefault(c.any.session(), -1)).toArray()
    };
    MedianPolish polish = MedianPolish.of(values, levels, devices.size(), keys.size());
    double[] effect = effects(polish, levels, keys.size());
    List<Double> percent = new ArrayList<>();
    for (double e : effect) percent.add(e);
    return new SessionSeries(
        keys,
        sessions.stream().map(PassEvidence::sessionStart).toList(),
        sessions.stream().map(PassEvidence::date).toList(),
        percent);
  }

  private static <T> Map<T, Integer> places(List<T> all) {
    Map<T, Integer> places = new HashMap<>();
    for (int i = 0; i < all.size(); i++) places.put(all.get(i), i);
    return places;
  }

  /**
   * A session's effect: the mean of what its cells have beside their device's own. Devices by
   * medians, so that no wild cell moves a row; sessions by means, which keep normal values normal.
   */
  private static double[] effects(MedianPolish polish, int[][] levels, int sessions) {
    List<List<Double>> of = new ArrayList<>();
    for (int s = 0; s < sessions; s++) of.add(new ArrayList<>());
    for (int i = 0; i < polish.residuals().length; i++)
      of.get(levels[1][i]).add(polish.residuals()[i] + polish.effects().get(1)[levels[1][i]]);
    return of.stream()
        .mapToDouble(v -> Sample.of(v.stream().mapToDouble(d -> d).toArray()).mean())
        .toArray();
  }

  /** Means per device and session, directions alike. */
  private static List<Cell> cells(Collection<PassEvidence> passes, Predicate<PassEvidence> wanted) {
    Map<Device, List<PassEvidence>> devices = new LinkedHashMap<>();
    for (PassEvidence p : passes)
      if (p.exclusion().isEmpty() && wanted.test(p))
        devices
            .computeIfAbsent(
                new Device(p.unit(), p.firmware(), p.condition()), k -> new ArrayList<>())
            .add(p);
    List<Cell> cells = new ArrayList<>();
    devices.forEach((device, of) -> cells.addAll(cells(device, of)));
    return cells;
  }

  private static List<Cell> cells(Device device, List<PassEvidence> of) {
    Source source = source(of);
    Map<String, List<PassEvidence>> bySession =
        of.stream()
            .filter(p -> PassError.of(p, source).isPresent())
            .collect(
                Collectors.groupingBy(
                    PassEvidence::session, LinkedHashMap::new, Collectors.toList()));
    List<Cell> cells = new ArrayList<>();
    bySession.forEach(
        (session, passes) -> cells.add(new Cell(device, passes.get(0), mean(passes, source))));
    return cells;
  }

  /** Directions first, so that a session with three passes one way is not pulled there. */
  private static double mean(List<PassEvidence> passes, Source source) {
    return passes.stream()
        .collect(
            Collectors.groupingBy(
                PassEvidence::direction,
                Collectors.averagingDouble(p -> PassError.of(p, source).orElseThrow().asRead())))
        .values()
        .stream()
        .mapToDouble(v -> v)
        .average()
        .orElseThrow();
  }

  /** The finest that every pass of the device carries: a display's step would hide a shift. */
  private static Source source(List<PassEvidence> passes) {
    for (Source s : List.of(Source.RECORDED, Source.TRACK, Source.SHOWN))
      if (passes.stream().allMatch(p -> PassError.of(p, s).isPresent())) return s;
    return passes.stream().anyMatch(p -> PassError.of(p, Source.RECORDED).isPresent())
        ? Source.RECORDED
        : passes.stream().anyMatch(p -> PassError.of(p, Source.TRACK).isPresent())
            ? Source.TRACK
            : Source.SHOWN;
  }
}
