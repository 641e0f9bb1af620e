package milewarden.verdict.place;

import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import milewarden.accuracy.Ladder;
import milewarden.accuracy.LadderStep;
import milewarden.units.LengthRange;

/**
 * The mean ladder of a release: each step in metres per kilometre of the reference, passes averaged
 * within their session, sessions by a plain mean.
 *
 * @param sessions that hold a ladder
 * @param metresPerKm steps that any pass reaches; an interval by its middle
 */
public record MeanLadder(String firmware, int sessions, Map<LadderStep, Double> metresPerKm) {
  public MeanLadder {
    metresPerKm = Map.copyOf(metresPerKm);
  }

  /** A pass's ladder; steps that are not a number are not there. */
  public record OfPass(String firmware, String session, Ladder ladder, double referenceM) {}

  /** One per release that has a ladder, in order of their names. */
  public static List<MeanLadder> of(Collection<OfPass> passes) {
    Map<String, Map<String, List<OfPass>>> groups = new TreeMap<>();
    for (OfPass p : passes)
      groups
          .computeIfAbsent(p.firmware(), k -> new TreeMap<>())
          .computeIfAbsent(p.session(), k -> new ArrayList<>())
          .add(p);
    List<MeanLadder> all = new ArrayList<>();
    groups.forEach((firmware, sessions) -> all.add(of(firmware, sessions.values())));
    all.removeIf(l -> l.metresPerKm().isEmpty());
    return List.copyOf(all);
  }

  private static MeanLadder of(String firmware, Collection<List<OfPass>> sessions) {
    Map<LadderStep, Double> means = new EnumMap<>(LadderStep.class);
    for (LadderStep step : LadderStep.values())
      sessions.stream()
          .map(of -> of.stream().mapToDouble(p -> perKm(p, step)).filter(x -> !Double.isNaN(x)))
          .map(java.util.stream.DoubleStream::average)
          .filter(java.util.OptionalDouble::isPresent)
          .mapToDouble(java.util.OptionalDouble::getAsDouble)
          .average()
          .ifPresent(x -> means.put(step, x));
    return new MeanLadder(firmware, sessions.size(), means);
  }

  private static double perKm(OfPass p, LadderStep step) {
    if (Double.isNaN(p.ladder().slopeM())) return Double.NaN;
    return step.of(p.ladder()).map(r -> middle(r) / p.referenceM() * 1000).orElse(Double.NaN);
  }

  private static double middle(LengthRange r) {
    return (r.lowM() + r.highM()) / 2;
  }
}
