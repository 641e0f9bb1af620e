package milewarden.verdict;

import java.util.List;
import java.util.Optional;

/**
 * The rules of judging. The tester may change each; a verdict names the policy that it rests on.
 * Percent is always percent of the reference length.
 *
 * @param purposes what the device may be used for, in any order
 * @param provisionalSessions with fewer sessions a decision is provisional
 * @param provisionalDays with fewer days a decision is provisional
 * @param provisionalUnits with fewer units a decision is provisional
 * @param insufficientSessions with fewer sessions nothing is decided
 * @param materialChangePercent the smallest change of the mean error that matters, above 0
 * @param baselineSessions a baseline of fewer sessions is said to be thin
 * @param looks the looks at a comparison in ascending order of sessions
 * @param lookQuietMinutes a look waits until nothing of its sessions has come in for so long, 0 or
 *     more
 * @param standardRatio ratio of standard deviations above which Welch's test must agree
 * @param spreadAlpha share of a look's alpha that the test of spread takes: 20 means a twentieth
 * @param smoothingAlpha share of releases that smooth as the one before and are called otherwise,
 *     at most, over all looks; 0 where it is not asked, as in policies of earlier versions
 * @param power chance to find a change for which sessions needed are counted
 * @param thresholdEarlySessions the threshold is judged from so many sessions on
 * @param thresholdEarlyLevel by an interval of this confidence
 * @param thresholdSessions and from so many on
 * @param thresholdLevel by an interval of this confidence
 * @param suspectLevel confidence of the next-run interval that a suspect run lies outside of
 * @param suspectLimits a suspect run lies beyond so many times the limit
 * @param controlSessions paired sessions from which on a control unit is a covariate
 * @param reanchorSessions sessions in which a replaced unit and its successor are carried together
 * @param unitsForVariance with fewer units the variance between units is taken from all models
 * @param displayShare the display resolves a limit when its step is at most this share of it
 * @param sourceCoverage share of the sessions that must carry a source for it to be taken
 * @param verdictMonths a verdict older than so many months is stale
 * @param staleAfterDays a verdict is stale after so many days of retest due
 * @param cusumSlack k of the cumulative sum, in standard deviations
 * @param cusumLimit h of the cumulative sum, in standard deviations
 * @param cusumSessions sessions from which on the cumulative sum knows its parameters
 * @param falseDiscovery q of Benjamini and Hochberg on the overview of many models
 * @param figureStepPercent a published figure is rounded to this step; a smaller move is none
 */
public record Policy(
    List<Purpose> purposes,
    int provisionalSessions,
    int provisionalDays,
    int provisionalUnits,
    int insufficientSessions,
    double materialChangePercent,
    int baselineSessions,
    List<LookPlan> looks,
    int lookQuietMinutes,
    double standardRatio,
    double spreadAlpha,
    double smoothingAlpha,
    double power,
    int thresholdEarlySessions,
    double thresholdEarlyLevel,
    int thresholdSessions,
    double thresholdLevel,
    double suspectLevel,
    double suspectLimits,
    int controlSessions,
    int reanchorSessions,
    int unitsForVariance,
    double displayShare,
    double sourceCoverage,
    int verdictMonths,
    int staleAfterDays,
    double cusumSlack,
    double cusumLimit,
    int cusumSessions,
    double falseDiscovery,
    double figureStepPercent) {
  public Policy {
    purposes = List.copyOf(purposes);
    looks = List.copyOf(looks);
    if (purposes.isEmpty()) throw new IllegalArgumentException("purposes: none");
    if (looks.isEmpty()) throw new IllegalArgumentException("looks: none");
    for (int i = 1; i < looks.size(); i++)
      if (looks.get(i).sessions() <= looks.get(i - 1).sessions())
        throw new IllegalArgumentException("looks: not in ascending order of sessions");
    if (!(materialChangePercent > 0))
      throw new IllegalArgumentException("materialChangePercent: " + materialChangePercent);
    if (lookQuietMinutes < 0)
      throw new IllegalArgumentException("lookQuietMinutes: " + lookQuietMinutes);
    if (insufficientSessions < 2)
      throw new IllegalArgumentException("insufficientSessions: " + insufficientSessions);
  }

  /**
   * What a device may be good for.
   *
   * @param code racing, pacing, training, or the tester's own word
   * @param meanLimitPercent limit on the size of the mean error, above 0
   * @param nextRunLimitPercent limit on the next run, above 0
   */
  public record Purpose(String code, double meanLimitPercent, double nextRunLimitPercent) {
    public Purpose {
      if (!(meanLimitPercent > 0) || !(nextRunLimitPercent > 0))
        throw new IllegalArgumentException("limits of " + code);
    }
  }

  /**
   * A look at a comparison.
   *
   * @param sessions the candidate's sessions at which it is taken
   * @param alpha its share of the false alarms, between 0 and 1
   * @param equivalenceLevel confidence of the interval that must lie within the material change
   */
  public record LookPlan(int sessions, double alpha, double equivalenceLevel) {
    public LookPlan {
      if (sessions < 2) throw new IllegalArgumentException("look at sessions: " + sessions);
      if (!(alpha > 0 && alpha < 1)) throw new IllegalArgumentException("alpha: " + alpha);
      if (!(equivalenceLevel > 0 && equivalenceLevel < 1))
        throw new IllegalArgumentException("equivalenceLevel: " + equivalenceLevel);
    }
  }

  /** The design's rules: each figure is its default, found there with its reason. */
  public static Policy defaults() {
    return new Policy(
        List.of(
            new Purpose("racing", 0.5, 1.0),
            new Purpose("pacing", 1.0, 2.0),
            new Purpose("training", 2.0, 5.0)),
        6,
        3,
        2,
        3,
        0.5,
        8,
        // Alphas by simulation: 5.3 % false alarms over the three looks; checked by a test.
        List.of(
            new LookPlan(3, 0.005, 0.97),
            new LookPlan(6, 0.014, 0.97),
            new LookPlan(12, 0.045, 0.90)),
        // Our choice: longer than it takes to empty the devices of one outing.
        60,
        1.5,
        // At a third, the spread alone would call one comparison in 80 beyond the 5.3 % of the
        // looks;
        // a twentieth fits into what Welch's condition leaves of it (simulated).
        20,
        // Our choice: one release in a hundred asks for a look at its tracks in vain; checked by a
        // test.
        0.01,
        0.80,
        3,
        0.97,
        6,
        0.90,
        0.997,
        3,
        8,
        6,
        4,
        0.25,
        0.8,
        12,
        90,
        0.5,
        5,
        30,
        0.10,
        0.1);
  }

  /** The same rules with other purposes. */
  public Policy withPurposes(List<Purpose> others) {
    return with(others, materialChangePercent, looks);
  }

  /** The same rules with another material change. */
  public Policy withMaterialChange(double percent) {
    return with(purposes, percent, looks);
  }

  /** The same rules with other looks. */
  public Policy withLooks(List<LookPlan> others) {
    return with(purposes, materialChangePercent, others);
  }

  /** The same rules with looks that wait so long. */
  public Policy withLookQuietMinutes(int minutes) {
    return with(purposes, materialChangePercent, looks, minutes);
  }

  private Policy with(List<Purpose> others, double material, List<LookPlan> plans) {
    return with(others, material, plans, lookQuietMinutes);
  }

  private Policy with(
      List<Purpose> others, double material, List<LookPlan> plans, int quietMinutes) {
    return new Policy(
        others,
        provisionalSessions,
        provisionalDays,
        provisionalUnits,
        insufficientSessions,
        material,
        baselineSessions,
        plans,
        quietMinutes,
        standardRatio,
        spreadAlpha,
        smoothingAlpha,
        power,
        thresholdEarlySessions,
        thresholdEarlyLevel,
        thresholdSessions,
        thresholdLevel,
        suspectLevel,
        suspectLimits,
        controlSessions,
        reanchorSessions,
        unitsForVariance,
        displayShare,
        sourceCoverage,
        verdictMonths,
        staleAfterDays,
        cusumSlack,
        cusumLimit,
        cusumSessions,
        falseDiscovery,
        figureStepPercent);
  }

  /** The purpose of this code. */
  public Optional<Purpose> purpose(String code) {
    return purposes.stream().filter(p -> p.code().equals(code)).findFirst();
  }

  /** The purpose with the widest limit on the mean: what the threshold takes without a verdict. */
  public Purpose widest() {
    return purposes.stream()
        .max(java.util.Comparator.comparingDouble(Purpose::meanLimitPercent))
        .orElseThrow();
  }
}
