package milewarden.verdict;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.device.FirmwareRelease;

/**
 * All that the judge knows of one model.
 *
 * @param releases in order of date
 * @param passes of the model, and of the control units carried in its sessions (those may be of
 *     another model); in any order; results of the present engine version and of the course
 *     versions in force; excluded ones too
 * @param verdicts all published on the model, in order of publishing
 * @param looks all looks that were taken so far, in any order; {@link ModelJudgement#looks()} of an
 *     earlier judgement
 * @param openDue due items that are open now
 * @param otherModelsUnits the variance between units pooled over all models, not negative; empty
 *     where unknown
 * @param reliability of each release that was run
 * @param arrivals when what belongs to each session came in
 * @param lags of smoothing that the model's own passes show, by result; those that show none are
 *     left out
 */
public record ModelHistory(
    String model,
    List<Release> releases,
    List<PassEvidence> passes,
    List<VerdictOnRecord> verdicts,
    List<Look> looks,
    List<OpenDue> openDue,
    Optional<UnitVariance> otherModelsUnits,
    List<Reliability> reliability,
    Arrivals arrivals,
    Map<Long, SmoothingLag> lags) {
  public ModelHistory {
    lags = Map.copyOf(lags);
    reliability = List.copyOf(reliability);
    releases = List.copyOf(releases);
    passes = List.copyOf(passes);
    verdicts = List.copyOf(verdicts);
    looks = List.copyOf(looks);
    openDue = List.copyOf(openDue);
  }

  /** Where nothing is known of failed runs. */
  public ModelHistory(
      String model,
      List<Release> releases,
      List<PassEvidence> passes,
      List<VerdictOnRecord> verdicts,
      List<Look> looks,
      List<OpenDue> openDue,
      Optional<UnitVariance> otherModelsUnits) {
    this(
        model,
        releases,
        passes,
        verdicts,
        looks,
        openDue,
        otherModelsUnits,
        List.of(),
        Arrivals.LONG_AGO,
        Map.of());
  }

  /** The same with other passes. */
  public ModelHistory withPasses(List<PassEvidence> others) {
    return new ModelHistory(
        model,
        releases,
        others,
        verdicts,
        looks,
        openDue,
        otherModelsUnits,
        reliability,
        arrivals,
        lags);
  }

  /** The same with another record of what came in when. */
  public ModelHistory withArrivals(Arrivals others) {
    return new ModelHistory(
        model,
        releases,
        passes,
        verdicts,
        looks,
        openDue,
        otherModelsUnits,
        reliability,
        others,
        lags);
  }

  /** The same with other lags. */
  public ModelHistory withLags(Map<Long, SmoothingLag> others) {
    return new ModelHistory(
        model,
        releases,
        passes,
        verdicts,
        looks,
        openDue,
        otherModelsUnits,
        reliability,
        arrivals,
        others);
  }

  /** The start of the latest outing; empty where there is none. */
  public Optional<Instant> latestStart() {
    return passes.stream().map(PassEvidence::sessionStart).max(Instant::compareTo);
  }

  /** The newest published verdict, unless it was withdrawn: an older one does not come back. */
  public Optional<PublishedVerdict> standing() {
    if (verdicts.isEmpty()) return Optional.empty();
    VerdictOnRecord newest = verdicts.get(verdicts.size() - 1);
    return newest.withdrawal().isPresent() ? Optional.empty() : Optional.of(newest.verdict());
  }

  /** The model's own passes under this firmware, excluded ones too; control units left out. */
  public List<PassEvidence> passesOf(String firmware) {
    return passes.stream()
        .filter(p -> !p.control())
        .filter(p -> p.model().equals(model) && p.firmware().equals(firmware))
        .toList();
  }

  /** The passes of control units. */
  public List<PassEvidence> controlPasses() {
    return passes.stream().filter(PassEvidence::control).toList();
  }

  /**
   * A release as known.
   *
   * @param firstSeen when it first stood in a recording or was registered
   */
  public record Release(FirmwareRelease release, Optional<Instant> firstSeen) {}

  /** A published verdict and, where it was, its withdrawal. */
  public record VerdictOnRecord(PublishedVerdict verdict, Optional<Withdrawal> withdrawal) {}

  /** A verdict taken back, with the tester's words. */
  public record Withdrawal(Instant at, String words) {}

  /**
   * A due item whose cause lasts.
   *
   * @param raisedAt since when something of its kind is due without a gap
   * @param dismissed true where the tester closed it with a word: it asks for nothing any more
   */
  public record OpenDue(String key, DueItem.Kind kind, Instant raisedAt, boolean dismissed) {
    /** One that is open. */
    public OpenDue(String key, DueItem.Kind kind, Instant raisedAt) {
      this(key, kind, raisedAt, false);
    }
  }

  /**
   * Variance between units in squared percent, with its degrees of freedom.
   *
   * @param variance as estimated of one model it may be negative; used, it never is
   */
  public record UnitVariance(double variance, double degreesOfFreedom) {
    /** That of many models: each weighs by its degrees of freedom; empty where there is none. */
    public static Optional<UnitVariance> pooled(List<UnitVariance> models) {
      double sum = 0;
      double degrees = 0;
      for (UnitVariance m : models) {
        sum += m.variance() * m.degreesOfFreedom();
        degrees += m.degreesOfFreedom();
      }
      return degrees > 0
          ? Optional.of(new UnitVariance(Math.max(0, sum / degrees), degrees))
          : Optional.empty();
    }
  }
}
