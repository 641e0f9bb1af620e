package milewarden.verdict;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.units.PercentRange;
import milewarden.verdict.ReleaseJudgement.Waiting;

/**
 * All that the judge says of one model at one moment.
 *
 * @param engineVersion of the results it rests on
 * @param releases in order of date
 * @param anchor version of the release that later ones are held against; empty where none has
 *     sessions enough
 * @param comparisons by candidate in order of date, against the anchor first
 * @param suspects in order of start
 * @param monitoring of releases that have sessions enough, and of control units
 * @param due most pressing first; one per cause
 * @param verdict the newest published verdict that stands, and its state
 * @param units how far this model's units differ, for the pool of all models; not truncated at 0;
 *     empty where none were carried together
 * @param courses what the control units tell of each course's length; empty in judgements of
 *     earlier versions
 * @param smoothing of each release against the one before, where something can be said; empty in
 *     judgements of earlier versions
 */
public record ModelJudgement(
    String model,
    Instant judgedAt,
    String engineVersion,
    List<ReleaseJudgement> releases,
    Optional<String> anchor,
    List<Comparison> comparisons,
    List<SuspectRun> suspects,
    List<Monitoring> monitoring,
    List<DueItem> due,
    Optional<VerdictNow> verdict,
    Optional<ModelHistory.UnitVariance> units,
    List<CourseBias> courses,
    List<SmoothingChange> smoothing)
    implements Findings {
  public ModelJudgement {
    releases = List.copyOf(releases);
    comparisons = List.copyOf(comparisons);
    suspects = List.copyOf(suspects);
    monitoring = List.copyOf(monitoring);
    due = List.copyOf(due);
    courses = courses == null ? List.of() : List.copyOf(courses);
    smoothing = smoothing == null ? List.of() : List.copyOf(smoothing);
  }

  /** Until when the first look or release that waits does so; empty where none waits. */
  public Optional<Instant> waitsUntil() {
    return Stream.concat(
            comparisons.stream().flatMap(c -> c.lookWaitsUntil().stream()),
            releases.stream().flatMap(r -> r.waiting().stream()).map(Waiting::until))
        .min(Instant::compareTo);
  }

  /** Without what units and courses tell. */
  public ModelJudgement(
      String model,
      Instant judgedAt,
      String engineVersion,
      List<ReleaseJudgement> releases,
      Optional<String> anchor,
      List<Comparison> comparisons,
      List<SuspectRun> suspects,
      List<Monitoring> monitoring,
      List<DueItem> due,
      Optional<VerdictNow> verdict) {
    this(
        model,
        judgedAt,
        engineVersion,
        releases,
        anchor,
        comparisons,
        suspects,
        monitoring,
        due,
        verdict,
        Optional.empty(),
        List.of(),
        List.of());
  }

  /**
   * A run outside the model's own next-run interval and far beyond the limit.
   *
   * @param interval the next-run interval at the policy's level
   * @param repeated true where a later session of the same release and condition exists
   */
  public record SuspectRun(
      long resultId,
      String session,
      String unit,
      String firmware,
      Condition condition,
      Instant start,
      double errorPercent,
      PercentRange interval,
      double limitPercent,
      Source source,
      boolean repeated) {}

  /**
   * The cumulative sums of a release's sessions, or of a control unit's.
   *
   * @param selfStarting true where the parameters were not yet known
   * @param high and {@code low}: one value per session in standard deviations, low not negative
   *     either
   * @param signalAt index of the first session beyond the limit; empty where none
   */
  public record Monitoring(
      String subject,
      boolean control,
      boolean selfStarting,
      double limit,
      List<Double> high,
      List<Double> low,
      java.util.OptionalInt signalAt) {
    public Monitoring {
      high = List.copyOf(high);
      low = List.copyOf(low);
    }
  }

  /** The verdict that stands, with its state. */
  public record VerdictNow(int number, String firmware, VerdictState state) {}

  /** The looks of all comparisons: hand them back with the next history. */
  public List<Look> looks() {
    List<Look> all = new ArrayList<>();
    for (Comparison c : comparisons) all.addAll(c.looks());
    return List.copyOf(all);
  }

  /** The release of this version. */
  public Optional<ReleaseJudgement> release(String version) {
    return releases.stream().filter(r -> r.release().version().equals(version)).findFirst();
  }
}
