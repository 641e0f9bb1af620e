package milewarden.verdict.figures;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.statistics.Distributions;
import milewarden.statistics.UncertaintySum;
import milewarden.units.PercentRange;
import milewarden.verdict.Conformity;
import milewarden.verdict.Conformity.Decision;
import milewarden.verdict.ModelHistory.UnitVariance;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.Purpose;
import milewarden.verdict.ReleaseFigures.Sufficiency;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;
import milewarden.verdict.Threshold;
import milewarden.verdict.Threshold.State;
import milewarden.verdict.Threshold.Transition;

/** Holds the figures of one release against limits: the purposes' and the threshold's. */
public final class Deciding {
  private static final double LEVEL = 0.95;
  // Coverage factor of the reference's expanded uncertainty; ILAC-G17:01/2021, about 95 %.
  private static final double REFERENCE_COVERAGE = 2;

  private Deciding() {}

  /** One per purpose. */
  public static List<Conformity> conformity(
      List<PassEvidence> release, Policy policy, Optional<UnitVariance> others) {
    return conformity(release, new EnumMap<>(Source.class), policy, others);
  }

  /**
   * The same.
   *
   * @param gathered the same passes, by a source that is likely to be wanted
   */
  public static List<Conformity> conformity(
      List<PassEvidence> release, Evidence gathered, Policy policy, Optional<UnitVariance> others) {
    Map<Source, Evidence> bySource = new EnumMap<>(Source.class);
    bySource.put(gathered.source(), gathered);
    return conformity(release, bySource, policy, others);
  }

  private static List<Conformity> conformity(
      List<PassEvidence> release,
      Map<Source, Evidence> bySource,
      Policy policy,
      Optional<UnitVariance> others) {
    List<Conformity> all = new ArrayList<>();
    for (Purpose purpose : policy.purposes()) {
      Source.Choice source = Source.choose(List.of(release), purpose.meanLimitPercent(), policy);
      Evidence e = bySource.computeIfAbsent(source.source(), s -> Evidence.of(s, release));
      if (!e.isEmpty()) all.add(conformity(e, purpose, source, policy, others));
    }
    return all;
  }

  /** One per purpose where nothing is there yet that a decision may rest on. */
  public static List<Conformity> undecided(Source.Choice source, Policy policy) {
    return policy.purposes().stream()
        .map(
            purpose ->
                undecided(
                    Decision.INSUFFICIENT_EVIDENCE,
                    purpose,
                    source,
                    Sufficiency.INSUFFICIENT,
                    OptionalDouble.empty()))
        .toList();
  }

  public static Conformity conformity(
      Evidence e,
      Purpose purpose,
      Source.Choice source,
      Policy policy,
      Optional<UnitVariance> others) {
    MeanError mean = MeanError.of(e, FigureSheet.unitVariance(e, policy, others));
    int days = (int) e.sessions().stream().map(SessionFigure::date).distinct().count();
    Sufficiency enough = FigureSheet.sufficiency(mean, days, policy);
    OptionalDouble lengthNeeded = notResolvable(e, mean, purpose, source);
    if (lengthNeeded.isPresent())
      return undecided(Decision.NOT_RESOLVABLE, purpose, source, enough, lengthNeeded);
    if (enough == Sufficiency.INSUFFICIENT)
      return undecided(Decision.INSUFFICIENT_EVIDENCE, purpose, source, enough, lengthNeeded);
    NextRun next = NextRun.of(e, mean);
    double u = mean.uncertainty().expanded(LEVEL);
    double limit = purpose.meanLimitPercent();
    double nextLimit = purpose.nextRunLimitPercent();
    Decision onMean = guarded(Math.abs(mean.unfavourable()), limit, u);
    Decision onNext = next(next.interval(LEVEL), mean.unfavourable(), nextLimit);
    return new Conformity(
        purpose,
        source,
        onMean.compareTo(onNext) >= 0 ? onMean : onNext,
        onMean,
        onNext,
        enough == Sufficiency.PROVISIONAL,
        enough,
        OptionalDouble.of(mean.unfavourable()),
        OptionalDouble.of(u),
        OptionalDouble.of(mean.atUnfavourableEnd().massBetween(-limit, limit)),
        OptionalDouble.of(next.atUnfavourableEnd().massBetween(-nextLimit, nextLimit)),
        OptionalDouble.empty());
  }

  private static Conformity undecided(
      Decision why,
      Purpose purpose,
      Source.Choice source,
      Sufficiency enough,
      OptionalDouble lengthNeeded) {
    OptionalDouble none = OptionalDouble.empty();
    return new Conformity(
        purpose, source, why, why, why, false, enough, none, none, none, none, lengthNeeded);
  }

  /** The length at which the limit would be resolvable; empty where it is. */
  private static OptionalDouble notResolvable(
      Evidence e, MeanError mean, Purpose purpose, Source.Choice source) {
    if (source.why() == Source.Why.NOTHING_FINER) return source.lengthNeededM();
    double reference = REFERENCE_COVERAGE * Math.sqrt(mean.referenceVariance());
    if (reference <= purpose.meanLimitPercent()) return OptionalDouble.empty();
    // A course's uncertainty in metres stays about the same when it is made longer.
    double longest = e.passes().stream().mapToDouble(PassEvidence::referenceM).max().orElseThrow();
    return OptionalDouble.of(longest * reference / purpose.meanLimitPercent());
  }

  /**
   * The non-binary rule with a guard band on either side of the limit.
   *
   * @param size of the error, not negative
   * @param w guard band, not negative
   * @see "ILAC-G8:09/2019, 4.2.3"
   */
  static Decision guarded(double size, double limit, double w) {
    if (size <= limit - w) return Decision.PASS;
    if (size <= limit) return Decision.CONDITIONAL_PASS;
    return size <= limit + w ? Decision.CONDITIONAL_FAIL : Decision.FAIL;
  }

  /** The rule for the next run: no second guard band, the interval is one already. */
  static Decision next(PercentRange interval, double mean, double limit) {
    if (interval.low() >= -limit && interval.high() <= limit) return Decision.PASS;
    return Math.abs(mean) <= limit ? Decision.CONDITIONAL_FAIL : Decision.FAIL;
  }

  /** The threshold, replayed over the sessions in order of start. */
  public static Threshold threshold(
      Evidence e,
      Purpose purpose,
      Source.Choice source,
      Policy policy,
      Optional<UnitVariance> others) {
    Optional<UnitVariance> unit = FigureSheet.unitVariance(e, policy, others);
    double limit = purpose.meanLimitPercent();
    State state = State.UNDETERMINED;
    Optional<MeanError> last = Optional.empty();
    List<Transition> transitions = new ArrayList<>();
    GrowingMean growing = new GrowingMean(e, unit);
    for (SessionFigure at : e.sessions()) {
      growing.next();
      if (growing.sessions() < policy.thresholdEarlySessions()) continue;
      MeanError mean = growing.soFar();
      if (!mean.hasSpread()) continue;
      last = Optional.of(mean);
      double level = thresholdLevel(mean, policy);
      if (stays(state, mean, level, limit)) continue;
      PercentRange interval = mean.interval(level);
      State next = step(state, interval.low(), interval.high(), limit);
      if (next != state) {
        transitions.add(new Transition(at.session(), at.start(), next, interval));
        state = next;
      }
    }
    return new Threshold(
        state,
        purpose.code(),
        limit,
        source,
        last.map(mean -> mean.interval(thresholdLevel(mean, policy))),
        transitions);
  }

  private static double thresholdLevel(MeanError mean, Policy policy) {
    return mean.sessions() < policy.thresholdSessions()
        ? policy.thresholdEarlyLevel()
        : policy.thresholdLevel();
  }

  /**
   * True where the state stays whatever the interval is between two that are cheap to find. What an
   * interval raises or clears, a narrower one of the same middle does, too.
   */
  private static boolean stays(State state, MeanError mean, double level, double limit) {
    UncertaintySum u = mean.uncertainty();
    double df = u.degreesOfFreedom();
    double least = u.standardUncertainty() * Distributions.tFactorAtLeast(level, df);
    double most = u.standardUncertainty() * Distributions.tFactorAtMost(level, df);
    return step(state, mean.low() - least, mean.high() + least, limit) == state
        && step(state, mean.low() - most, mean.high() + most, limit) == state;
  }

  private static State step(State state, double low, double high, double limit) {
    if (low > limit || high < -limit) return State.RAISED;
    if (low >= -limit && high <= limit) return State.CLEARED;
    return state;
  }
}
