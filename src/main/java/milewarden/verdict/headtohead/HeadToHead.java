package milewarden.verdict.headtohead;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.units.PercentRange;
import milewarden.verdict.Condition;
import milewarden.verdict.Conformity;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;

/**
 * Releases of several models, on what they have in common.
 *
 * @param source the one distance by which all are judged
 * @param common conditions in which every one of them was tested; both wrists are one
 * @param sides in the order asked for
 * @param pairs every two of them, in that order
 */
public record HeadToHead(
    Source.Choice source, List<Condition> common, List<Side> sides, List<Pair> pairs) {
  public HeadToHead {
    common = List.copyOf(common);
    sides = List.copyOf(sides);
    pairs = List.copyOf(pairs);
  }

  /** One release of a model. */
  public record Release(long model, String name, String firmware) {}

  /**
   * A release in the common conditions.
   *
   * @param figures empty where nothing is in common
   * @param conformity one per purpose; empty where nothing is in common
   * @param sessions in the common conditions, in order of start
   * @param elsewhere sessions in other conditions, which are left out here
   */
  public record Side(
      Release release,
      Optional<ReleaseFigures> figures,
      List<Conformity> conformity,
      List<SessionFigure> sessions,
      int elsewhere) {
    public Side {
      conformity = List.copyOf(conformity);
      sessions = List.copyOf(sessions);
    }
  }

  /**
   * Two releases: the first's error less the second's.
   *
   * @param outings sessions in which both were carried over the same course
   * @param carriedTogether from those alone, by their differences; empty with fewer than two
   * @param apart from all sessions of both; empty where a spread is not known
   */
  public record Pair(
      Release first,
      Release second,
      List<Outing> outings,
      Optional<Difference> carriedTogether,
      Optional<Difference> apart) {
    public Pair {
      outings = List.copyOf(outings);
    }

    /** In how many sessions both were carried. */
    public int together() {
      return outings.size();
    }

    /** True where the difference is that of the sessions in which both were carried. */
    public boolean bySession() {
      return carriedTogether.isPresent() && together() >= MOST_TRUSTED;
    }

    /** The more exact of the two: what both met alike on an outing falls out of the first. */
    public Optional<Difference> best() {
      return carriedTogether.filter(d -> bySession()).or(() -> apart);
    }

    // From two differences a spread is hardly known: t of one degree of freedom.
    private static final int MOST_TRUSTED = 3;
  }

  /**
   * A session in which both were carried: mean errors in percent over the ways that both went,
   * weighed alike.
   */
  public record Outing(String session, double first, double second) {
    public double difference() {
      return first - second;
    }
  }

  /**
   * A difference in points of percent.
   *
   * @param interval at 95 %, of this pair alone
   * @param simultaneous at 1 - 0.05 / m of m pairs, so that all m hold together with 95 %
   * @param p two-sided
   * @param unitPercent standard uncertainty from the units' own differences, in it; empty where
   *     unknown: it then holds for these units
   */
  public record Difference(
      double points,
      double standardError,
      double degreesOfFreedom,
      PercentRange interval,
      PercentRange simultaneous,
      double p,
      OptionalDouble unitPercent) {
    /** True where zero lies outside also when every pair is asked at once. */
    public boolean toldApart() {
      return simultaneous.low() > 0 || simultaneous.high() < 0;
    }
  }
}
