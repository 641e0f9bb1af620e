package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * What was said in public on one release. It can't change; it is replaced or withdrawn.
 *
 * @param number of the model's verdicts, from 1
 * @param words the tester's
 * @param figures pooled, as they stood
 * @param threshold where it stood under the limit that the verdict claims
 * @param runs what it rests on
 * @param theseUnitsOnly true where it says nothing of other units of the model
 * @param plan of its campaign and what was done otherwise, as it stood; empty where none was made,
 *     and in records from before plans were kept with the verdict
 */
public record PublishedVerdict(
    String model,
    int number,
    String firmware,
    List<String> units,
    List<Condition> conditions,
    List<Conformity> decisions,
    ReleaseFigures figures,
    List<ReleaseFigures> figuresByCondition,
    Threshold.State threshold,
    List<RunUsed> runs,
    List<CourseUsed> courses,
    Policy policy,
    String engineVersion,
    boolean theseUnitsOnly,
    String words,
    Instant publishedAt,
    Optional<Replaced> replaces,
    Optional<PlanOnRecord> plan) {
  public PublishedVerdict {
    units = List.copyOf(units);
    conditions = List.copyOf(conditions);
    decisions = List.copyOf(decisions);
    figuresByCondition = List.copyOf(figuresByCondition);
    runs = List.copyOf(runs);
    courses = List.copyOf(courses);
    if (number < 1) throw new IllegalArgumentException("number: " + number);
    if (words.isBlank()) throw new IllegalArgumentException("words: none");
  }

  /** The same with the threshold in another state. */
  public PublishedVerdict withThreshold(Threshold.State state) {
    return new PublishedVerdict(
        model,
        number,
        firmware,
        units,
        conditions,
        decisions,
        figures,
        figuresByCondition,
        state,
        runs,
        courses,
        policy,
        engineVersion,
        theseUnitsOnly,
        words,
        publishedAt,
        replaces,
        plan);
  }

  /**
   * A pass that the verdict rests on.
   *
   * @param sha256 of the recording's bytes in hexadecimal; empty text for a row without a file
   */
  public record RunUsed(long resultId, String session, String unit, String sha256) {}

  /** A course version that the verdict rests on. */
  public record CourseUsed(String slug, String version) {}

  /** The verdict that this one replaces, and why. */
  public record Replaced(int number, Reason reason) {}

  /** Closed list of the reasons for a new verdict. */
  public enum Reason {
    NEW_FIRMWARE,
    NEW_EVIDENCE,
    REFERENCE_REVISED,
    METHOD_REVISED,
    ERROR_CORRECTED
  }
}
