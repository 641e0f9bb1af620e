package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.device.FirmwareRelease;

/**
 * What is found of a model, without what it rests on: its sessions, results and sums are nearly all
 * of a judgement, and what lists many models needs none of them. A {@link ModelJudgement} has both.
 */
public sealed interface Findings permits ModelJudgement, ModelBrief {
  String model();

  /** In order of date. */
  List<? extends OfRelease> releases();

  /** Version of the release that later ones are held against; empty where there is none. */
  Optional<String> anchor();

  /** By candidate in order of date, against the anchor first. */
  List<? extends OfComparison> comparisons();

  /** The newest published verdict that stands, and its state. */
  Optional<ModelJudgement.VerdictNow> verdict();

  /** What the control units tell of each course's length. */
  List<CourseBias> courses();

  /** Of each release against the one before, where something can be said. */
  List<SmoothingChange> smoothing();

  /** The smoothing of this release against the one before; empty where nothing can be said. */
  default Optional<SmoothingChange> smoothingOf(String version) {
    return smoothing().stream().filter(s -> s.candidate().equals(version)).findFirst();
  }

  /** What is found of a release; see {@link ReleaseJudgement}. */
  sealed interface OfRelease permits ReleaseJudgement, ModelBrief.Release {
    FirmwareRelease release();

    Optional<Instant> firstSeen();

    Optional<ReleaseFigures> pooled();

    /** In order of the conditions' first sessions. */
    List<ReleaseFigures> byCondition();

    List<Conformity> conformity();

    /** Until when more of a session may come in; empty where nothing is waited for. */
    Optional<Instant> waitsUntil();

    /** True where at least one session counts. */
    default boolean tested() {
      return pooled().isPresent();
    }
  }

  /** What is found of a release held against another; see {@link Comparison}. */
  sealed interface OfComparison permits Comparison, ModelBrief.Compared {
    String candidate();

    String baseline();

    Comparison.Against against();

    Source.Choice source();

    int candidateSessions();

    int baselineSessions();

    Optional<Comparison.Sides> sides();

    Optional<Comparison.Estimate> estimate();

    List<Comparison.OfCondition> conditions();

    /** That were taken, in order, each with its re-looks. */
    List<? extends OfLook> looks();

    OptionalInt nextLookAt();

    Optional<Instant> lookWaitsUntil();

    Comparison.Outcome outcome();

    Comparison.Because because();

    OptionalDouble minimumDetectableChangePercent();

    OptionalInt sessionsNeeded();
  }

  /** What a look found; see {@link Look}. */
  sealed interface OfLook permits Look, ModelBrief.Look {
    int number();

    int sessions();

    double alpha();

    Comparison.Estimate estimate();

    List<Comparison.OfCondition> conditions();

    Optional<Comparison.Spread> spread();

    boolean beside();
  }
}
