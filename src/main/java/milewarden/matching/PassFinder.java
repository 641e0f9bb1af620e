package milewarden.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.matching.Match.Stretch;

/** Cuts a matched recording into passes by marks or by gates. */
public final class PassFinder {
  /** Beyond the mark by more than this the recording was meant to be cut (ENGINE rule). */
  private static final double NEAR_MARK_M = 25;

  /** Progress without retreat that makes a passage of a gate count. */
  private static final double SUSTAINED_M = 30;

  // The share of a course that makes a stretch a pass nobody finished properly rather than a bit of
  // walking about; 90 % of a pass is common practice, less for a device that starts late.
  private static final double TRAVERSE = 0.8;
  private static final double LEAST_TAGGED = 0.5;

  private final double[] place;
  private final double[] chainage;
  private final double lengthM;
  private final int lastFix;
  private final List<Stretch> stretches;
  private final boolean directionSure;
  private final List<PassSpan> spans = new ArrayList<>();
  private final List<Passes.Partial> partials = new ArrayList<>();

  private PassFinder(Match match) {
    place = match.placeM();
    chainage = match.chainageM();
    lengthM = match.lengthM();
    lastFix = place.length - 1;
    stretches = match.stretches();
    directionSure = match.directionSure();
  }

  /**
   * The passes of the recording; none where the track is not on the course.
   *
   * @param laps as the tester said; they are counted all the same, and a difference is told
   */
  public static Passes find(Match match, Optional<Bounds> bounds, OptionalInt laps) {
    if (match.stretches().isEmpty())
      return new Passes(List.of(), List.of(), false, 0, OptionalInt.empty(), true);
    PassFinder finder = new PassFinder(match);
    return match.closed() ? finder.closed(bounds, laps) : finder.open(bounds, laps);
  }

  private double advance(Stretch s) {
    return s.direction() * (place[s.last()] - place[s.first()]);
  }

  private double covered() {
    double most = 0;
    for (Stretch s : stretches) most = Math.max(most, advance(s) / lengthM);
    return most;
  }

  // ---- closed courses

  private Passes closed(Optional<Bounds> bounds, OptionalInt laps) {
    double start = place[0];
    double end = place[lastFix];
    double net = Math.abs(end - start);
    boolean startsAtMark = fromGate(start) <= NEAR_MARK_M;
    boolean endsAtMark = fromGate(end) <= NEAR_MARK_M;
    boolean marks =
        bounds
            .map(b -> b == Bounds.MARKS)
            .orElse(startsAtMark && endsAtMark && net > lengthM * LEAST_TAGGED);
    if (!marks) {
      for (Stretch s : stretches) byGates(s, bounds.isEmpty());
      // A device that started late or stopped early on its only lap.
      boolean late = bounds.isEmpty() && spans.isEmpty() && net >= TRAVERSE * lengthM;
      if (late && (startsAtMark || endsAtMark)) marks = true;
    }
    if (marks && net >= LEAST_TAGGED * lengthM) {
      partials.clear();
      byMarks((int) Math.max(1, Math.rint(net / lengthM)));
    }
    int counted = spans.stream().mapToInt(PassSpan::laps).sum();
    return passes(bounds.isEmpty(), laps, counted);
  }

  private Passes passes(boolean guessed, OptionalInt said, int counted) {
    boolean differs = said.isPresent() && counted > 0 && said.getAsInt() != counted;
    OptionalInt seen = differs ? OptionalInt.of(counted) : OptionalInt.empty();
    return new Passes(spans, partials, guessed, covered(), seen, directionSure);
  }

  private double fromGate(double chainageM) {
    return Math.abs(chainageM - lengthM * Math.rint(chainageM / lengthM));
  }

  private void byMarks(int laps) {
    int d = place[lastFix] >= place[0] ? 1 : -1;
    double gate = d * lengthM * Math.rint(place[0] / lengthM);
    List<PassEnd> seams = new ArrayList<>();
    int from = 0;
    for (int lap = 1; lap < laps; lap++) {
      Optional<PassEnd> seam = passage(from, lastFix, d, gate + lap * lengthM, true);
      if (seam.isEmpty()) continue;
      seams.add(seam.get());
      from = seam.get().fix();
    }
    spans.add(
        new PassSpan(direction(d), Bounds.MARKS, laps, PassEnd.at(0), PassEnd.at(lastFix), seams));
  }

  private void byGates(Stretch s, boolean guessed) {
    int d = s.direction();
    double start = d * place[s.first()];
    double end = d * place[s.last()];
    List<PassEnd> cuts = new ArrayList<>();
    double gate = lengthM * Math.ceil((start - NEAR_MARK_M) / lengthM);
    if (guessed && s.first() <= firstMatched() && Math.abs(gate - start) <= NEAR_MARK_M) {
      cuts.add(passage(s.first(), s.last(), d, gate, false).orElse(PassEnd.at(0)));
      gate += lengthM;
    }
    for (; gate <= end + NEAR_MARK_M; gate += lengthM) {
      int from = cuts.isEmpty() ? s.first() : cuts.get(cuts.size() - 1).fix();
      Optional<PassEnd> cut = passage(from, s.last(), d, gate, !cuts.isEmpty());
      if (cut.isEmpty() && guessed && !cuts.isEmpty() && s.last() >= lastMatched())
        cut = Optional.of(PassEnd.at(lastFix));
      cut.ifPresent(cuts::add);
    }
    if (cuts.isEmpty()) {
      if (end - start > NEAR_MARK_M) partials.add(new Passes.Partial(true, end - start));
      return;
    }
    partial(true, gateOf(cuts.get(0), d, start) - start);
    partial(false, end - gateOf(cuts.get(cuts.size() - 1), d, end));
    for (int i = 1; i < cuts.size(); i++)
      spans.add(
          new PassSpan(direction(d), Bounds.GATES, 1, cuts.get(i - 1), cuts.get(i), List.of()));
  }

  private static double gateOf(PassEnd cut, int d, double otherwise) {
    return cut.isGate() ? d * cut.gateM() : otherwise;
  }

  private void partial(boolean first, double partM) {
    if (partM > NEAR_MARK_M) partials.add(new Passes.Partial(first, partM));
  }

  private int firstMatched() {
    return stretches.get(0).first();
  }

  private int lastMatched() {
    return stretches.get(stretches.size() - 1).last();
  }

  // ---- open courses

  private Passes open(Optional<Bounds> bounds, OptionalInt laps) {
    List<Stretch> traverses = new ArrayList<>();
    double least = bounds.isPresent() ? LEAST_TAGGED : TRAVERSE;
    for (Stretch s : stretches) if (overlap(s) >= least * lengthM) traverses.add(s);
    boolean anyGate = false;
    for (int i = 0; i < traverses.size(); i++) {
      Stretch s = traverses.get(i);
      Optional<PassEnd> begun = begin(s, i == 0, bounds);
      Optional<PassEnd> ended = finish(s, i == traverses.size() - 1, bounds);
      if (begun.isEmpty() || ended.isEmpty() || !begun.get().isBefore(ended.get())) continue;
      PassEnd from = begun.get();
      PassEnd to = ended.get();
      anyGate |= from.isGate() || to.isGate();
      spans.add(new PassSpan(direction(s.direction()), Bounds.MARKS, 1, from, to, List.of()));
    }
    Bounds by = bounds.orElse(anyGate ? Bounds.GATES : Bounds.MARKS);
    spans.replaceAll(s -> new PassSpan(s.direction(), by, 1, s.from(), s.to(), s.seams()));
    return passes(bounds.isEmpty(), laps, spans.size());
  }

  /** How much of the course itself a stretch covers. */
  private double overlap(Stretch s) {
    double a = Math.max(0, Math.min(lengthM, place[s.first()]));
    double b = Math.max(0, Math.min(lengthM, place[s.last()]));
    return s.direction() * (b - a);
  }

  private Optional<PassEnd> begin(Stretch s, boolean first, Optional<Bounds> bounds) {
    int d = s.direction();
    double gate = d > 0 ? 0 : -lengthM;
    double beyond = gate - d * place[s.first()];
    PassEnd mark = PassEnd.at(first && !s.turnedIn() ? 0 : s.first());
    if (first && !s.turnedIn()) beyond = Math.max(beyond, gate - d * place[0]);
    return bounded(s, d, gate, beyond, mark, false, bounds);
  }

  private Optional<PassEnd> finish(Stretch s, boolean last, Optional<Bounds> bounds) {
    int d = s.direction();
    double gate = d > 0 ? lengthM : 0;
    double beyond = d * place[s.last()] - gate;
    PassEnd mark = PassEnd.at(last && !s.turnedOut() ? lastFix : s.last());
    if (last && !s.turnedOut()) beyond = Math.max(beyond, d * place[lastFix] - gate);
    return bounded(s, d, gate, beyond, mark, true, bounds);
  }

  /** Empty where the gate that must bound the pass was never passed. */
  private Optional<PassEnd> bounded(
      Stretch s,
      int d,
      double gate,
      double beyond,
      PassEnd mark,
      boolean finish,
      Optional<Bounds> bounds) {
    boolean turned = finish ? s.turnedOut() : s.turnedIn();
    boolean marks = bounds.map(b -> b == Bounds.MARKS).orElse(beyond <= NEAR_MARK_M);
    if (marks) return Optional.of(mark);
    Optional<PassEnd> passage = passage(s.first(), s.last(), d, gate, finish);
    if (passage.isPresent()) return passage;
    // Who turns on the mark has not passed it.
    return turned && Math.abs(beyond) <= NEAR_MARK_M ? Optional.of(mark) : Optional.empty();
  }

  // ---- passages

  private static Direction direction(int d) {
    return d > 0 ? Direction.FORWARD : Direction.REVERSE;
  }

  /**
   * Where the matched chainage passes a gate upward: the first or the last such step among those
   * whose places lie within the sustained progress around it. Empty where there is none.
   *
   * @param gate in the direction of travel: d times the unrolled chainage
   */
  private Optional<PassEnd> passage(int from, int to, int d, double gate, boolean first) {
    int up = from;
    while (up < to && d * place[up] < gate + SUSTAINED_M) up++;
    int low = up;
    while (low > from && d * place[low] > gate - SUSTAINED_M) low--;
    Optional<PassEnd> found = Optional.empty();
    for (int i = low; i < up; i++) {
      double a = d * chainage[i];
      double b = d * chainage[i + 1];
      if (!(a < gate && b >= gate)) continue;
      double fraction = (gate - a) / (b - a);
      found =
          Optional.of(
              fraction < 1 ? new PassEnd(i, fraction, d * gate) : new PassEnd(i + 1, 0, d * gate));
      if (first) break;
    }
    return found;
  }
}
