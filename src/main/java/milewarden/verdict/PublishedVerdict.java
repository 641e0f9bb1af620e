package milewarden.verdict;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * What was said in public on one release. It can't change; it is replaced or withdrawn.
 *
 * @param number of the model's verdicts, from 1
 * @param words the tester's
 * @param figures pooled, as they stood
 * @param threshold where it stood under the limit that the verdict claims
 * @param runs what it rests on
 * @param theseUnitsOnly true where it says nothing of other units of the model
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
    Optional<Replaced> replaces) {
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
        replaces);
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

  /**
   * The verdict on a release as judged now.
   *
   * @param sha256 of each pass's recording by its result; a pass without a file may be missing
   * @param reason why it replaces the one that stands; not used where none stands
   * @return empty where no session of the release counts: there is nothing to say
   */
  public static Optional<PublishedVerdict> of(
      ModelHistory history,
      ModelJudgement judged,
      String firmware,
      Policy policy,
      Map<Long, String> sha256,
      String words,
      Reason reason,
      Instant now) {
    Optional<ReleaseJudgement> found = judged.release(firmware).filter(ReleaseJudgement::tested);
    if (found.isEmpty()) return Optional.empty();
    ReleaseJudgement release = found.get();
    ReleaseFigures figures = release.pooled().orElseThrow();
    Evidence evidence = Evidence.of(figures.source(), history.passesOf(firmware));
    List<RunUsed> runs = new ArrayList<>();
    Map<String, String> courses = new TreeMap<>();
    for (PassEvidence p : evidence.passes()) {
      String sha = sha256.getOrDefault(p.resultId(), "");
      runs.add(new RunUsed(p.resultId(), p.session(), p.unit(), sha));
      courses.put(p.condition().course(), p.condition().courseVersion());
    }
    int last = history.verdicts().stream().mapToInt(v -> v.verdict().number()).max().orElse(0);
    return Optional.of(
        new PublishedVerdict(
            history.model(),
            last + 1,
            firmware,
            List.copyOf(new TreeSet<>(evidence.units())),
            evidence.conditions(),
            release.conformity(),
            figures,
            release.byCondition(),
            threshold(history, release, policy),
            runs,
            courses.entrySet().stream().map(c -> new CourseUsed(c.getKey(), c.getValue())).toList(),
            policy,
            judged.engineVersion(),
            figures.theseUnitsOnly(),
            words,
            now,
            history.standing().map(s -> new Replaced(s.number(), reason))));
  }

  /** Under the limit that this verdict claims itself, not the one that stood before it. */
  private static Threshold.State threshold(
      ModelHistory history, ReleaseJudgement release, Policy policy) {
    Policy.Purpose limit = Judge.limit(release.conformity(), policy);
    List<PassEvidence> passes = history.passesOf(release.release().version());
    Source.Choice source = Source.choose(List.of(passes), limit.meanLimitPercent(), policy);
    Evidence evidence = Evidence.of(source.source(), passes);
    return Deciding.threshold(evidence, limit, source, policy, history.otherModelsUnits()).state();
  }
}
