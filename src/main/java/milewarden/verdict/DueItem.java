package milewarden.verdict;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.course.Direction;
import milewarden.units.PercentRange;

/**
 * Something to do, for one cause.
 *
 * @param key the same for the same cause at every judging: one item per key is open at a time; when
 *     a judgement no longer holds the key, the cause is gone
 * @param firmware the release it is about
 * @param evidence results, ascending
 */
public record DueItem(
    String key,
    Kind kind,
    Severity severity,
    Cause cause,
    String model,
    String firmware,
    Facts facts,
    Advice advice,
    List<Long> evidence) {
  public DueItem {
    evidence = List.copyOf(evidence);
  }

  /** An item of which nothing but its cause is known. */
  public static DueItem withoutFacts(
      String key, Kind kind, Severity severity, Cause cause, String model, String firmware) {
    return new DueItem(
        key, kind, severity, cause, model, firmware, Facts.NONE, Advice.NONE, List.of());
  }

  /** What is due. */
  public enum Kind {
    RETEST_DUE,
    VERDICT_UPDATE_DUE;

    /** The name in files and addresses: {@code retest-due}. */
    public String code() {
      return name().toLowerCase(java.util.Locale.ROOT).replace('_', '-');
    }
  }

  /** Most pressing first. */
  public enum Severity {
    VERDICT_WRONG,
    REGRESSION,
    STALE,
    HOUSEKEEPING;

    /** The name in files and addresses: {@code verdict-wrong}. */
    public String code() {
      return name().toLowerCase(java.util.Locale.ROOT).replace('_', '-');
    }
  }

  /** Why it is due. */
  public enum Cause {
    /** A firmware newer than the tested one was seen or registered. */
    NEWER_FIRMWARE,
    COMPARISON_NOT_SETTLED,
    VERDICT_OLD,
    SUSPECT_RUN,
    COURSE_REMEASURED,
    ENGINE_MOVED_RESULTS,
    DECISION_CHANGED,
    COMPARISON_WORSE,
    COMPARISON_BETTER,
    COMPARISON_CHANGED,
    /** The positions are smoothed more or less than under the release before. */
    SMOOTHING_CHANGED,
    THRESHOLD_RAISED,
    THRESHOLD_CLEARED
  }

  /**
   * The numbers of the sentence; what the cause does not need is empty.
   *
   * @param otherFirmware the release compared with, or the one last tested
   * @param purposes codes of the purposes whose decision changed
   * @param percent the difference, the mean error or the run's error
   * @param interval where it lies
   * @param limitPercent the limit it was held against
   * @param sessions on which it rests
   * @param wanted sessions at which more is known
   * @param course slug of the course
   * @param because of a comparison
   * @param spread of a comparison that found the spread changed; empty elsewhere
   * @param smoothing where it changed; empty elsewhere
   */
  public record Facts(
      Optional<String> otherFirmware,
      List<DecisionChange> purposes,
      OptionalDouble percent,
      Optional<PercentRange> interval,
      OptionalDouble limitPercent,
      OptionalInt sessions,
      OptionalInt wanted,
      Optional<LocalDate> date,
      Optional<String> course,
      Optional<Comparison.Because> because,
      Optional<Source> source,
      Optional<Comparison.Spread> spread,
      Optional<SmoothingChange> smoothing) {
    static final Facts NONE =
        new Facts(
            Optional.empty(),
            List.of(),
            OptionalDouble.empty(),
            Optional.empty(),
            OptionalDouble.empty(),
            OptionalInt.empty(),
            OptionalInt.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty());

    public Facts {
      purposes = List.copyOf(purposes);
    }

    /** Where spread and smoothing have no part in it. */
    public Facts(
        Optional<String> otherFirmware,
        List<DecisionChange> purposes,
        OptionalDouble percent,
        Optional<PercentRange> interval,
        OptionalDouble limitPercent,
        OptionalInt sessions,
        OptionalInt wanted,
        Optional<LocalDate> date,
        Optional<String> course,
        Optional<Comparison.Because> because,
        Optional<Source> source) {
      this(
          otherFirmware,
          purposes,
          percent,
          interval,
          limitPercent,
          sessions,
          wanted,
          date,
          course,
          because,
          source,
          Optional.empty(),
          Optional.empty());
    }
  }

  /** A purpose's decision in the published verdict and now. */
  public record DecisionChange(
      String purpose, Conformity.Decision published, Conformity.Decision now) {}

  /**
   * What to do next.
   *
   * @param sessionsNeeded still to be run; 0 where the evidence is enough
   * @param conditions in which, the thinnest first
   * @param next the run that is missing most; empty where no run is asked for
   * @param chanceVerdictFlips chance that the published verdict changes with the next sessions, 0
   *     to 1; empty where there is none or it can't be told
   * @param outing all units of the next session together; empty where no run is asked for
   */
  public record Advice(
      OptionalInt sessionsNeeded,
      List<Condition> conditions,
      Optional<NextRun> next,
      OptionalDouble chanceVerdictFlips,
      Optional<Outing> outing) {
    static final Advice NONE =
        new Advice(
            OptionalInt.empty(),
            List.of(),
            Optional.empty(),
            OptionalDouble.empty(),
            Optional.empty());

    public Advice {
      conditions = List.copyOf(conditions);
    }
  }

  /**
   * The next session, balanced by a Latin square of units against carriages.
   *
   * @param first the direction to begin with; the other follows
   * @param runs one per unit, each in the carriage that is its turn, all on one course in one gait
   */
  public record Outing(Direction first, List<NextRun> runs) {
    public Outing {
      runs = List.copyOf(runs);
    }
  }

  /** Unit and direction to run next; the side is in the condition's carriage. */
  public record NextRun(Condition condition, String unit, Direction direction) {}
}
