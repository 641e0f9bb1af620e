package milewarden.verdict.replay;

import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.MeasureOptions;
import milewarden.device.FirmwareRelease;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.Threshold;
import milewarden.verdict.judging.Judge;

/**
 * All that the figures of a published verdict rest on, frozen when it was published: with the
 * recordings' bytes and the courses' files each of them can be found again, by anybody.
 *
 * @param before the verdict that stood when this one was published: its limit chose the source
 * @param otherModelsUnits the variance between units pooled over all models, as it was then
 * @param passes of the release, excluded ones too
 */
public record CapsuleContents(
    PublishedVerdict verdict,
    Optional<PublishedVerdict> before,
    FirmwareRelease release,
    Optional<ModelHistory.UnitVariance> otherModelsUnits,
    List<Pass> passes) {
  public CapsuleContents {
    passes = List.copyOf(passes);
  }

  /**
   * A pass, and how it was measured.
   *
   * @param sha256 of the recording's bytes; empty text where only the display was read
   * @param file the recording's name when it came; empty text where there is none
   * @param pass its number within the recording, from 1
   * @param options by which it was measured; empty where the store had not kept them yet
   * @param columns what its tester said of a table's doubtful columns; empty where there were none
   */
  public record Pass(
      PassEvidence evidence,
      String sha256,
      String file,
      int pass,
      Optional<MeasureOptions> options,
      Optional<String> columns) {
    /** The same with other evidence. */
    public Pass with(PassEvidence other) {
      return new Pass(other, sha256, file, pass, options, columns);
    }
  }

  /**
   * The figures of a verdict.
   *
   * @param release pooled and by condition, with the decisions
   * @param threshold under the limit that the verdict itself claims
   */
  public record Figures(ReleaseJudgement release, Threshold.State threshold) {}

  /** The same with other passes. */
  public CapsuleContents with(List<Pass> others) {
    return new CapsuleContents(verdict, before, release, otherModelsUnits, others);
  }

  /** The figures of these passes, by the judge; empty where none counts. */
  public Optional<Figures> figures() {
    Optional<ReleaseJudgement> found = judged(before).filter(ReleaseJudgement::tested);
    return found.map(
        r ->
            new Figures(
                r,
                judged(Optional.of(verdict))
                    .flatMap(ReleaseJudgement::threshold)
                    .map(Threshold::state)
                    .orElse(Threshold.State.UNDETERMINED)));
  }

  private Optional<ReleaseJudgement> judged(Optional<PublishedVerdict> standing) {
    ModelHistory history =
        new ModelHistory(
            verdict.model(),
            List.of(new ModelHistory.Release(release, Optional.empty())),
            passes.stream().map(Pass::evidence).toList(),
            standing.stream()
                .map(v -> new ModelHistory.VerdictOnRecord(v, Optional.empty()))
                .toList(),
            List.of(),
            List.of(),
            otherModelsUnits);
    // The zone counts ages only, and no figure has one.
    return Judge.judge(history, verdict.policy(), verdict.publishedAt(), ZoneOffset.UTC)
        .release(release.version());
  }
}
