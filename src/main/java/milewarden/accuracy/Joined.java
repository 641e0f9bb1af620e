package milewarden.accuracy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.noise.Evenness;
import milewarden.accuracy.noise.NoiseCheck;
import milewarden.accuracy.noise.Offsets;
import milewarden.units.LengthRange;

/**
 * Several ways over an open course in one recording from mark to mark, with one number on the
 * display behind the last: one pass of n traversals, its figures the sums of theirs.
 */
final class Joined {
  private final List<PassMeasurement> parts;
  private final PassMeasurement first;

  /**
   * @param parts in order of time, two or more
   */
  Joined(List<PassMeasurement> parts) {
    this.parts = parts;
    first = parts.get(0);
  }

  private double sum(ToDoubleFunction<PassMeasurement> figure) {
    return parts.stream().mapToDouble(figure).sum();
  }

  private <T> List<T> all(Function<PassMeasurement, List<T>> list) {
    return parts.stream().flatMap(p -> list.apply(p).stream()).toList();
  }

  /**
   * @param offsets of all fixes
   * @param recorded the device's own distance over the whole
   */
  PassMeasurement with(
      ShownDistance shown, Offsets offsets, double intervalS, OptionalDouble recorded) {
    double r = sum(p -> p.distances().referenceM());
    double h = sum(p -> p.distances().horizontalReferenceM());
    double track = sum(p -> p.distances().trackM());
    Optional<LengthRange> range = Optional.of(shown.range());
    Distances distances =
        new Distances(r, h, track, recorded, OptionalDouble.of(shown.asReadM()), range);
    return new PassMeasurement(
        first.index(),
        first.direction(),
        first.bounds(),
        parts.size(),
        first.startedAt(),
        duration(),
        parts.stream().allMatch(PassMeasurement::onCourse),
        parts.stream().allMatch(PassMeasurement::trackResolvable),
        offLine(),
        distances,
        PassMeasurer.errors(distances, Optional.of(shown)),
        ladder(track, recorded, range),
        offsets.statistics(intervalS),
        sum(PassMeasurement::predictedInflationM),
        noise(),
        track > 0 ? sum(p -> p.gapShare() * p.distances().trackM()) / track : 0,
        byKind(),
        byPlace(),
        laps(),
        ascent(),
        fingerprints(),
        profile());
  }

  /** From the start of the whole, not of each way. */
  private List<PassMeasurement.OffLine> offLine() {
    List<PassMeasurement.OffLine> out = new ArrayList<>();
    double before = 0;
    for (PassMeasurement p : parts) {
      for (PassMeasurement.OffLine o : p.offLine())
        out.add(
            new PassMeasurement.OffLine(
                o.from(), o.to(), before + o.fromM(), before + o.toM(), o.largestOffsetM()));
      before += p.distances().horizontalReferenceM();
    }
    return out;
  }

  private OptionalDouble duration() {
    return parts.stream().allMatch(p -> p.durationS().isPresent())
        ? OptionalDouble.of(sum(p -> p.durationS().orElseThrow()))
        : OptionalDouble.empty();
  }

  private Ladder ladder(double track, OptionalDouble recorded, Optional<LengthRange> range) {
    double below = recorded.orElse(track);
    return new Ladder(
        sum(p -> p.ladder().slopeM()),
        sum(p -> p.ladder().endsM()),
        sum(p -> p.ladder().lineM()),
        sum(p -> p.ladder().backtrackM()),
        sum(p -> p.ladder().weaveM()),
        sum(p -> p.ladder().bendM()),
        sum(p -> p.ladder().chordM()),
        recorded.isPresent()
            ? OptionalDouble.of(recorded.getAsDouble() - track)
            : OptionalDouble.empty(),
        range.map(s -> new LengthRange(s.lowM() - below, s.highM() - below)));
  }

  private NoiseCheck noise() {
    if (parts.stream().anyMatch(p -> p.noise().observedM().isEmpty())) return NoiseCheck.NONE;
    return new NoiseCheck(
        added(p -> p.noise().observedM()),
        added(p -> p.noise().predictedM()),
        uncertainty(),
        parts.stream()
            .flatMap(p -> p.noise().evenness().stream())
            .max(Comparator.comparingDouble(Evenness::ratio)),
        parts.stream().allMatch(p -> p.noise().plainNoise()));
  }

  /** Of the sums: ways err on their own. */
  private List<Double> uncertainty() {
    double[] squares = new double[first.noise().uncertaintyM().size()];
    for (PassMeasurement p : parts)
      for (int i = 0; i < squares.length; i++)
        squares[i] += Math.pow(p.noise().uncertaintyM().get(i), 2);
    return Arrays.stream(squares).map(Math::sqrt).boxed().toList();
  }

  private List<Double> added(Function<PassMeasurement, List<Double>> list) {
    double[] sums = new double[list.apply(first).size()];
    for (PassMeasurement p : parts)
      for (int i = 0; i < sums.length; i++) sums[i] += list.apply(p).get(i);
    return Arrays.stream(sums).boxed().toList();
  }

  private List<Double> byPlace() {
    return added(PassMeasurement::excessPer10m);
  }

  private List<PassMeasurement.KindExcess> byKind() {
    List<PassMeasurement.KindExcess> out = new ArrayList<>();
    for (int i = 0; i < first.excessByKind().size(); i++) {
      int steps = 0;
      double length = 0;
      double excess = 0;
      for (PassMeasurement p : parts) {
        PassMeasurement.KindExcess k = p.excessByKind().get(i);
        steps += k.steps();
        length += k.lengthM();
        excess += k.excessM();
      }
      out.add(
          new PassMeasurement.KindExcess(
              first.excessByKind().get(i).kind(), steps, length, excess));
    }
    return out;
  }

  private List<Fingerprint> fingerprints() {
    List<Fingerprint> out = new ArrayList<>();
    for (int i = 0; i < first.fingerprints().size(); i++) {
      int kind = i;
      out.add(Fingerprint.clearest(parts.stream().map(p -> p.fingerprints().get(kind)).toList()));
    }
    return out;
  }

  private List<PassMeasurement.LapDetail> laps() {
    List<PassMeasurement.LapDetail> out = new ArrayList<>();
    for (int i = 0; i < parts.size(); i++)
      out.add(
          new PassMeasurement.LapDetail(
              i + 1, parts.get(i).distances().trackM(), parts.get(i).durationS()));
    return out;
  }

  /** Of each way by itself: a climb does not go on from one way into the next. */
  private Optional<Ascent> ascent() {
    if (first.ascent().isEmpty() || parts.stream().anyMatch(p -> p.ascent().isEmpty()))
      return Optional.empty();
    Ascent one = first.ascent().get();
    return Optional.of(
        new Ascent(
            sum(p -> p.ascent().orElseThrow().trackM()),
            one.courseM().isPresent()
                ? OptionalDouble.of(sum(p -> p.ascent().orElseThrow().courseM().orElseThrow()))
                : OptionalDouble.empty(),
            one.deadBandM()));
  }

  private PassMeasurement.Profile profile() {
    return new PassMeasurement.Profile(
        all(p -> p.profile().chainageM()),
        all(p -> p.profile().offsetM()),
        all(p -> p.profile().speedMps()),
        all(p -> p.profile().latitudeDeg()),
        all(p -> p.profile().longitudeDeg()));
  }
}
