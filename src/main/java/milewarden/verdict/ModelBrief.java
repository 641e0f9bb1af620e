package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import milewarden.device.FirmwareRelease;

/**
 * A judgement without what it rests on, for what lists many models: some kilobytes for a model of
 * thousands of sessions. Its components are called as those of the whole are, so that it can be
 * read of the whole one's text.
 */
public record ModelBrief(
    String model,
    List<Release> releases,
    Optional<String> anchor,
    List<Compared> comparisons,
    Optional<ModelJudgement.VerdictNow> verdict,
    List<CourseBias> courses,
    List<SmoothingChange> smoothing)
    implements Findings {
  public ModelBrief {
    releases = List.copyOf(releases);
    comparisons = List.copyOf(comparisons);
    courses = courses == null ? List.of() : List.copyOf(courses);
    smoothing = smoothing == null ? List.of() : List.copyOf(smoothing);
  }

  /** The release of this version. */
  public Optional<Release> release(String version) {
    return releases.stream().filter(r -> r.release().version().equals(version)).findFirst();
  }

  /** A release without its sessions. */
  public record Release(
      FirmwareRelease release,
      Optional<Instant> firstSeen,
      Optional<ReleaseFigures> pooled,
      List<ReleaseFigures> byCondition,
      List<Conformity> conformity,
      Optional<Waiting> waiting)
      implements OfRelease {
    public Release {
      byCondition = List.copyOf(byCondition);
      conformity = List.copyOf(conformity);
    }

    @Override
    public Optional<Instant> waitsUntil() {
      return waiting.map(Waiting::until);
    }
  }

  /** That more of a session may come in. */
  public record Waiting(Instant until) {}

  /** A comparison whose looks are without their evidence. */
  public record Compared(
      String candidate,
      String baseline,
      Comparison.Against against,
      Source.Choice source,
      int candidateSessions,
      int baselineSessions,
      Optional<Comparison.Sides> sides,
      Optional<Comparison.Estimate> estimate,
      List<Comparison.OfCondition> conditions,
      List<Look> looks,
      OptionalInt nextLookAt,
      Optional<Instant> lookWaitsUntil,
      Comparison.Outcome outcome,
      Comparison.Because because,
      OptionalDouble minimumDetectableChangePercent,
      OptionalInt sessionsNeeded)
      implements OfComparison {
    public Compared {
      conditions = List.copyOf(conditions);
      looks = List.copyOf(looks);
    }
  }

  /** A look without its evidence. */
  public record Look(
      int number,
      int sessions,
      double alpha,
      Comparison.Estimate estimate,
      List<Comparison.OfCondition> conditions,
      Optional<Comparison.Spread> spread,
      boolean beside)
      implements OfLook {
    public Look {
      conditions = List.copyOf(conditions);
    }
  }
}
