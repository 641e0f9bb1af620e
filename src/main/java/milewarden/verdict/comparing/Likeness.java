package milewarden.verdict.comparing;

import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import milewarden.course.Direction;
import milewarden.verdict.Condition;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.figures.Evidence;

/** Brings two releases to what is alike in both. */
final class Likeness {
  private Likeness() {}

  /**
   * Both sides without what has no like on the other.
   *
   * @param cut true where sessions, or one direction of them, were left out for want of a like
   */
  record Alike(Evidence candidate, Evidence baseline, boolean cut) {}

  /**
   * Within a condition, sessions of one direction are compared with such sessions, and sessions of
   * both directions with those. Where the releases have no such pair in common, both are cut to the
   * direction that more of their sessions hold.
   *
   * @param c the candidate's, in any conditions
   * @param b the baseline's, frozen
   * @param deciding so many first sessions of the candidate say how it is run: so later sessions
   *     can't change what the first look rests on
   */
  static Alike of(Evidence c, Evidence b, int deciding) {
    Set<Condition> common = new LinkedHashSet<>(c.conditions());
    common.retainAll(b.conditions());
    Evidence cc = c.in(common);
    Evidence bb = b.in(common);
    Set<Like> alike = likes(bb);
    Map<Condition, Direction> cut = new HashMap<>();
    for (Condition condition : common)
      if (!meets(condition, cc, alike, deciding))
        direction(condition, cc, bb).ifPresent(d -> cut.put(condition, d));
    if (!cut.isEmpty()) {
      cc = cc.where(p -> in(cut, p.condition(), p.direction()));
      bb = bb.where(p -> in(cut, p.condition(), p.direction()));
    }
    Set<Like> there = likes(bb);
    Evidence kept = keep(cc, there::contains);
    boolean less = kept.passes().size() < c.in(common).passes().size();
    return new Alike(kept, bb, less || !cut.isEmpty());
  }

  private static boolean in(Map<Condition, Direction> cut, Condition condition, Direction way) {
    return cut.getOrDefault(condition, way) == way;
  }

  /** True where one of the candidate's first sessions in the condition has a like. */
  private static boolean meets(Condition condition, Evidence c, Set<Like> there, int deciding) {
    int seen = 0;
    for (SessionFigure s : c.sessions())
      for (SessionFigure.OfCondition cell : s.conditions())
        if (cell.condition().equals(condition)) {
          if (there.contains(Like.of(cell))) return true;
          if (++seen >= deciding) return false;
        }
    return false;
  }

  /** The direction that most sessions of the thinner side hold; empty where none is in common. */
  private static Optional<Direction> direction(Condition condition, Evidence c, Evidence b) {
    Optional<Direction> best = Optional.empty();
    long most = 0;
    for (Direction d : Direction.values()) {
      long both = Math.min(holding(condition, d, c), holding(condition, d, b));
      if (both > most) {
        most = both;
        best = Optional.of(d);
      }
    }
    return best;
  }

  private static long holding(Condition condition, Direction d, Evidence e) {
    return e.passes().stream()
        .filter(p -> p.condition().equals(condition) && p.direction() == d)
        .map(p -> p.session())
        .distinct()
        .count();
  }

  static Set<Like> likes(Evidence e) {
    Set<Like> likes = new LinkedHashSet<>();
    for (SessionFigure s : e.sessions())
      for (SessionFigure.OfCondition cell : s.conditions()) likes.add(Like.of(cell));
    return likes;
  }

  /** Without the conditions of sessions that the test does not want. */
  static Evidence keep(Evidence e, Predicate<Like> wanted) {
    Map<String, Set<Condition>> out = new HashMap<>();
    for (SessionFigure s : e.sessions())
      for (SessionFigure.OfCondition cell : s.conditions())
        if (!wanted.test(Like.of(cell)))
          out.computeIfAbsent(s.session(), k -> new HashSet<>()).add(cell.condition());
    if (out.isEmpty()) return e;
    return e.where(p -> !out.getOrDefault(p.session(), Set.of()).contains(p.condition()));
  }

  /** How many of the sessions hold a condition that one of the others holds. */
  static long sharing(List<SessionFigure> sessions, Collection<SessionFigure> others) {
    Set<Condition> there = new HashSet<>();
    for (SessionFigure s : others)
      for (SessionFigure.OfCondition c : s.conditions()) there.add(c.condition());
    long n = 0;
    for (SessionFigure s : sessions)
      if (s.conditions().stream().anyMatch(c -> there.contains(c.condition()))) n++;
    return n;
  }
}
