package milewarden.verdict.comparing;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Estimate;
import milewarden.verdict.Look;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.figures.Evidence;

/** The looks at one comparison that were taken before now: none is ever lost or changed. */
final class TakenLooks {
  private final List<Look> taken;

  TakenLooks(ModelHistory history, String candidate, String baseline, Against against) {
    taken =
        history.looks().stream()
            .filter(
                l ->
                    l.candidate().equals(candidate)
                        && l.baseline().equals(baseline)
                        && l.against() == against)
            .sorted(Comparator.comparing(Look::number).thenComparing(Look::takenAt))
            .toList();
  }

  /** The number of the last look that was taken; 0 where none. */
  int last() {
    return taken.isEmpty() ? 0 : taken.get(taken.size() - 1).number();
  }

  /** The looks of one number. */
  record Numbered(List<Look> looks) {
    /**
     * The permutation test costs most of a comparison. Of the same results with the same fit, to
     * the last bit, it says what it said.
     *
     * @return empty where none of them was of such a fit
     */
    OptionalDouble permutationP(Evidence candidate, Evidence baseline, Estimate now) {
      for (Look l : looks)
        if (sameFit(l.estimate(), now)
            && l.candidateResults().equals(candidate.resultIds())
            && l.baselineResults().equals(baseline.resultIds())) return l.estimate().permutationP();
      return OptionalDouble.empty();
    }

    private static boolean sameFit(Estimate kept, Estimate now) {
      return kept.percent() == now.percent()
          && kept.standardError() == now.standardError()
          && kept.degreesOfFreedom() == now.degreesOfFreedom()
          && kept.p() == now.p()
          && kept.welchP().equals(now.welchP())
          && kept.controlSlope().equals(now.controlSlope());
    }
  }

  Numbered numbered(int number) {
    return new Numbered(of(number));
  }

  List<Look> of(int number) {
    return taken.stream().filter(l -> l.number() == number).toList();
  }

  /** The sessions that a look keeps, whatever comes later; empty where it was not taken. */
  Optional<Look.Drawn> kept(int number) {
    List<Look> deciding = of(number, false);
    return deciding.isEmpty() ? Optional.empty() : deciding.get(deciding.size() - 1).drawn();
  }

  /** True where the look as it would be taken now is the last of its kind. */
  boolean holds(Look now) {
    List<Look> before = of(now.number(), now.beside());
    return !before.isEmpty() && same(before.get(before.size() - 1), now);
  }

  private List<Look> of(int number, boolean beside) {
    return of(number).stream().filter(l -> l.beside() == beside).toList();
  }

  /**
   * The same evidence by the same rules with the same outcome. What stands around it, such as how
   * far units of other models differ, may have moved: the look keeps what it said.
   */
  private static boolean same(Look kept, Look now) {
    return kept.candidateResults().equals(now.candidateResults())
        && kept.baselineResults().equals(now.baselineResults())
        && kept.source().source() == now.source().source()
        && kept.alpha() == now.alpha()
        && kept.outcome() == now.outcome()
        && kept.because() == now.because();
  }

  static List<String> keys(List<SessionFigure> sessions) {
    return sessions.stream().map(SessionFigure::session).toList();
  }

  /** So many of them: first the named ones that are left, then the earliest. */
  static List<SessionFigure> drawn(List<SessionFigure> all, List<String> first, int n) {
    Set<String> chosen = new HashSet<>();
    for (SessionFigure s : all)
      if (first.contains(s.session()) && chosen.size() < n) chosen.add(s.session());
    for (SessionFigure s : all) if (chosen.size() < n) chosen.add(s.session());
    return all.stream().filter(s -> chosen.contains(s.session())).toList();
  }

  /** Of each number the one that was taken last; those beside are left out. */
  static List<Look> newest(List<Look> looks) {
    List<Look> newest = new ArrayList<>();
    for (Look l : looks) {
      if (l.beside()) continue;
      newest.removeIf(o -> o.number() == l.number());
      newest.add(l);
    }
    return newest;
  }
}
