package milewarden.verdict.comparing;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import milewarden.statistics.Contrast;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;

/**
 * On what two releases are held against each other: one source, the same units where there are any,
 * what is alike in both, the baseline as it was frozen.
 *
 * @param candidate all its sessions that have a like in the baseline
 * @param baseline frozen by the first look
 * @param unitsDiffer true where no unit was run under both releases often enough
 * @param reanchored by how much the candidate's units read other than the baseline's, where joint
 *     sessions tell; empty elsewhere
 * @param cut true where sessions, or one direction of them, have no like and were left out
 */
record Ground(
    Source.Choice source,
    Evidence candidate,
    Evidence baseline,
    Controls controls,
    boolean unitsDiffer,
    Optional<Contrast> reanchored,
    boolean cut) {

  /**
   * Of two releases.
   *
   * @param kept the baseline's sessions that a look holds on to; those that are left of them count
   */
  static Ground of(
      Gathered gathered, String candidate, String baseline, Optional<List<String>> kept) {
    ModelHistory history = gathered.history();
    Policy policy = gathered.policy();
    Source.Choice source =
        Source.choose(
            List.of(gathered.passesOf(candidate), gathered.passesOf(baseline)),
            policy.materialChangePercent(),
            policy);
    Evidence ce = gathered.evidence(candidate, source.source());
    Evidence be = gathered.evidence(baseline, source.source());
    Set<String> common = new TreeSet<>(ce.units());
    common.retainAll(be.units());
    boolean differ = !common.isEmpty() && !carry(ce, be, common, policy);
    if (!common.isEmpty() && !differ) {
      ce = ce.where(p -> common.contains(p.unit()));
      be = be.where(p -> common.contains(p.unit()));
    } else if (differ) {
      // A unit that ran under the baseline too seldom to be one is no baseline, and no candidate.
      be = be.where(p -> !common.contains(p.unit()));
    }
    differ |= common.isEmpty();
    Optional<Contrast> anchored =
        differ
            ? reanchored(history, source.source(), ce.units(), be.units(), policy)
            : Optional.empty();
    Likeness.Alike alike =
        Likeness.of(
            ce, held(be, kept).orElse(frozen(ce, be, policy)), policy.looks().get(0).sessions());
    return new Ground(
        source,
        alike.candidate(),
        alike.baseline(),
        gathered.controls(),
        differ && !ce.isEmpty() && !be.isEmpty(),
        anchored,
        alike.cut());
  }

  private static Optional<Evidence> held(Evidence b, Optional<List<String>> kept) {
    return kept.map(
            keys ->
                b.ofSessions(
                    b.sessions().stream().filter(s -> keys.contains(s.session())).toList()))
        .filter(e -> !e.isEmpty());
  }

  /** Whether the common units ran often enough under both to be compared with themselves. */
  private static boolean carry(Evidence c, Evidence b, Set<String> common, Policy policy) {
    if (common.containsAll(c.units()) && common.containsAll(b.units())) return true;
    int needed = policy.insufficientSessions();
    boolean before = b.where(p -> common.contains(p.unit())).sessions().size() >= needed;
    boolean others = b.where(p -> !common.contains(p.unit())).sessions().size() >= needed;
    return before || !others;
  }

  private static Optional<Contrast> reanchored(
      ModelHistory history, Source source, Set<String> fresh, Set<String> old, Policy policy) {
    List<PassEvidence> model =
        history.passes().stream()
            .filter(p -> !p.control() && p.model().equals(history.model()))
            .toList();
    // The same firmware in both, whichever: what differs is then the unit alone.
    return Reanchoring.offset(
        source,
        model.stream().filter(p -> fresh.contains(p.unit()) && !old.contains(p.unit())).toList(),
        model.stream().filter(p -> old.contains(p.unit()) && !fresh.contains(p.unit())).toList(),
        p -> List.of(p.condition(), p.firmware()),
        policy.reanchorSessions());
  }

  /**
   * The baseline's sessions up to the one that makes the first look possible, in order of start: so
   * the baseline does not depend on the order in which files arrive, and does not grow later.
   */
  private static Evidence frozen(Evidence c, Evidence b, Policy policy) {
    record Timed(SessionFigure session, boolean candidate) {}
    List<Timed> line = new ArrayList<>();
    for (SessionFigure s : b.sessions()) line.add(new Timed(s, false));
    for (SessionFigure s : c.sessions()) line.add(new Timed(s, true));
    // A stable sort: where both were carried in one outing, the baseline's session comes first.
    line.sort(Comparator.comparing(t -> t.session().start()));
    List<SessionFigure> before = new ArrayList<>();
    List<SessionFigure> after = new ArrayList<>();
    int first = policy.looks().get(0).sessions();
    int least = policy.insufficientSessions();
    for (Timed t : line) {
      (t.candidate() ? after : before).add(t.session());
      if (after.size() >= first
          && before.size() >= least
          && Likeness.sharing(after, before) >= first
          && Likeness.sharing(before, after) >= least) return b.ofSessions(before);
    }
    return b;
  }
}
