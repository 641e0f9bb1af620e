package milewarden.verdict.due;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeSet;
import milewarden.verdict.Comparison;
import milewarden.verdict.Condition;
import milewarden.verdict.DueItem.Advice;
import milewarden.verdict.DueItem.NextRun;
import milewarden.verdict.DueItem.Outing;
import milewarden.verdict.ModelJudgement.SuspectRun;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.figures.Evidence;

/** Says what to run next. */
final class Advising {
  private final Known known;
  private final List<String> units;

  Advising(Known known) {
    this.known = known;
    this.units =
        List.copyOf(
            new TreeSet<>(
                known.history().passes().stream()
                    .filter(p -> !p.control() && p.model().equals(known.history().model()))
                    .map(PassEvidence::unit)
                    .toList()));
  }

  /** No more runs: read the figures and write. */
  static Advice none() {
    return new Advice(
        OptionalInt.of(0), List.of(), Optional.empty(), OptionalDouble.empty(), Optional.empty());
  }

  /** So many sessions of a release, where the anchor was tested. */
  Advice forRelease(String version, int sessions) {
    return advice(version, OptionalInt.of(sessions), OptionalDouble.empty());
  }

  Advice forComparison(Comparison c) {
    if (c.sessionsNeeded().isPresent() && c.sessionsNeeded().getAsInt() == 0) return none();
    return advice(c.candidate(), c.sessionsNeeded(), FlipChance.of(c, known.policy()));
  }

  private Advice advice(String version, OptionalInt sessions, OptionalDouble chance) {
    List<Condition> conditions = thinnestFirst(version);
    Optional<Outing> outing = outing(version, conditions);
    return new Advice(sessions, conditions, outing.map(o -> o.runs().get(0)), chance, outing);
  }

  /** The same unit in the same place once more. */
  Advice repeat(SuspectRun s) {
    Optional<NextRun> same =
        known.history().passes().stream()
            .filter(p -> p.resultId() == s.resultId())
            .findFirst()
            .map(p -> new NextRun(s.condition(), s.unit(), p.direction()));
    return new Advice(
        OptionalInt.of(1),
        List.of(s.condition()),
        same,
        OptionalDouble.empty(),
        same.map(run -> new Outing(run.direction(), List.of(run))));
  }

  /** The anchor's conditions, else the newest tested release's: fewest sessions of ours first. */
  private List<Condition> thinnestFirst(String version) {
    List<Condition> wanted =
        new ArrayList<>(known.anchor().map(this::conditions).orElse(List.of()));
    if (wanted.isEmpty())
      known.newestTested().ifPresent(r -> wanted.addAll(conditions(r.release().version())));
    List<PassEvidence> ours = counted(version);
    wanted.sort(
        Comparator.<Condition>comparingLong(c -> sessionsIn(ours, c))
            .thenComparing(Evidence.BY_CONDITION));
    return wanted;
  }

  private static long sessionsIn(List<PassEvidence> passes, Condition c) {
    return passes.stream()
        .filter(p -> p.condition().equals(c))
        .map(PassEvidence::session)
        .distinct()
        .count();
  }

  private List<Condition> conditions(String version) {
    return known.releases().stream()
        .filter(r -> r.release().version().equals(version))
        .map(ReleaseJudgement::byCondition)
        .flatMap(List::stream)
        .flatMap(f -> f.condition().stream())
        .toList();
  }

  private List<PassEvidence> counted(String version) {
    return known.history().passesOf(version).stream().filter(p -> p.exclusion().isEmpty()).toList();
  }

  /** All units together where the fewest sessions are: one course, one gait, each its carriage. */
  private Optional<Outing> outing(String version, List<Condition> conditions) {
    if (conditions.isEmpty() || units.isEmpty()) return Optional.empty();
    Condition place = conditions.get(0);
    List<Condition> carriages =
        conditions.stream().filter(c -> together(c, place)).sorted(Evidence.BY_CONDITION).toList();
    List<PassEvidence> there =
        counted(version).stream().filter(p -> carriages.contains(p.condition())).toList();
    return Optional.of(new LatinSquare(units, carriages).next(there));
  }

  /** Whether one outing can hold both: they differ in how a unit is worn. */
  private static boolean together(Condition a, Condition b) {
    return a.course().equals(b.course())
        && a.courseVersion().equals(b.courseVersion())
        && a.site() == b.site()
        && a.gait() == b.gait()
        && a.settings().equals(b.settings());
  }
}
