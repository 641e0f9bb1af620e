package milewarden.verdict.replay;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import milewarden.device.FirmwareRelease;
import milewarden.verdict.Comparison;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.ModelHistory.Release;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.Policy;
import milewarden.verdict.Policy.LookPlan;
import milewarden.verdict.judging.Judge;

/**
 * An unchanged period, taken apart at random into an invented baseline and an invented candidate,
 * many times, and judged each time by the judge himself. Nothing changed, so a comparison that
 * fires is a false alarm.
 *
 * <p>The sessions of one release change places: each keeps its passes and takes the date of
 * another. If nothing changed within the period, every order of them is as likely.
 */
public final class AaReplay {
  private static final String BASELINE = "A";
  private static final String CANDIDATE = "A again";

  private final ModelHistory history;
  private final String firmware;
  private final Policy policy;
  private final ZoneId zone;
  private final List<PassEvidence> passes;
  private final List<Slot> slots;
  private final int candidates;

  private record Slot(String session, Instant start, LocalDate date) {}

  /**
   * What came of one period.
   *
   * @param sessions of the release
   * @param looks that were taken of each split
   * @param splits that were judged
   * @param fired of these, once or more often
   * @param promised share of false alarms that the looks' alphas add up to
   */
  public record Period(
      String model,
      String firmware,
      int sessions,
      int looks,
      int splits,
      int fired,
      double promised) {}

  private AaReplay(ModelHistory history, String firmware, Policy policy, ZoneId zone) {
    this.history = history;
    this.firmware = firmware;
    this.policy = policy;
    this.zone = zone;
    this.passes = history.passesOf(firmware).stream().filter(p -> p.exclusion().isEmpty()).toList();
    Map<String, Slot> bySession = new HashMap<>();
    for (PassEvidence p : passes)
      bySession.putIfAbsent(p.session(), new Slot(p.session(), p.sessionStart(), p.date()));
    this.slots =
        bySession.values().stream()
            .sorted(Comparator.comparing(Slot::start).thenComparing(Slot::session))
            .toList();
    this.candidates = candidates();
  }

  /**
   * The looks that so many sessions allow beside a baseline: the full one that the policy asks for,
   * else half of the sessions.
   */
  private int candidates() {
    int baseline =
        Math.min(
            policy.baselineSessions(), Math.max(policy.insufficientSessions(), slots.size() / 2));
    int most = 0;
    for (LookPlan look : policy.looks())
      if (slots.size() - baseline >= look.sessions()) most = look.sessions();
    return most;
  }

  /**
   * Splits a release's sessions so many times.
   *
   * @param giveWay called before each split, which takes a moment; what it throws ends it all
   * @return empty where it has too few sessions for a first look
   */
  public static Optional<Period> of(
      ModelHistory history,
      String firmware,
      Policy policy,
      ZoneId zone,
      int splits,
      long seed,
      Runnable giveWay) {
    AaReplay replay = new AaReplay(history, firmware, policy, zone);
    return replay.candidates == 0
        ? Optional.empty()
        : replay.run(splits, new Random(seed), giveWay);
  }

  /** The same without giving way to anything. */
  public static Optional<Period> of(
      ModelHistory history, String firmware, Policy policy, ZoneId zone, int splits, long seed) {
    return of(history, firmware, policy, zone, splits, seed, () -> {});
  }

  private Optional<Period> run(int splits, Random random, Runnable giveWay) {
    int judged = 0;
    int fired = 0;
    for (int i = 0; i < splits; i++) {
      giveWay.run();
      Optional<Comparison> comparison = split(random);
      if (comparison.isEmpty() || comparison.get().looks().isEmpty()) continue;
      judged++;
      if (fires(comparison.get())) fired++;
    }
    if (judged == 0) return Optional.empty();
    int looks = (int) policy.looks().stream().filter(l -> l.sessions() <= candidates).count();
    double promised = policy.looks().stream().limit(looks).mapToDouble(LookPlan::alpha).sum();
    return Optional.of(
        new Period(history.model(), firmware, slots.size(), looks, judged, fired, promised));
  }

  private static boolean fires(Comparison c) {
    return c.looks().stream()
        .map(milewarden.verdict.Look::outcome)
        .anyMatch(o -> o == Outcome.WORSE || o == Outcome.BETTER || o == Outcome.CHANGED);
  }

  private Optional<Comparison> split(Random random) {
    List<Slot> order = new ArrayList<>(slots);
    Collections.shuffle(order, random);
    Map<String, Integer> place = new HashMap<>();
    for (int i = 0; i < order.size(); i++) place.put(order.get(i).session(), i);
    int baseline = slots.size() - candidates;
    List<PassEvidence> moved = new ArrayList<>();
    for (PassEvidence p : passes) {
      int at = java.util.Objects.requireNonNull(place.get(p.session()));
      moved.add(at(p, slots.get(at), at < baseline ? BASELINE : CANDIDATE));
    }
    // A control unit shares the sky of the session that it was carried in.
    for (PassEvidence p : history.controlPasses()) {
      Integer at = place.get(p.session());
      if (at != null) moved.add(at(p, slots.get(at), p.firmware()));
    }
    ModelJudgement judged =
        Judge.judge(
            new ModelHistory(
                history.model(),
                List.of(release(BASELINE, 0), release(CANDIDATE, baseline)),
                moved,
                List.of(),
                List.of(),
                List.of(),
                history.otherModelsUnits()),
            policy,
            slots.get(slots.size() - 1).start(),
            zone);
    return judged.comparisons().stream()
        .filter(c -> c.candidate().equals(CANDIDATE) && c.baseline().equals(BASELINE))
        .findFirst();
  }

  private Release release(String version, int slot) {
    LocalDate date = slots.get(slot).date();
    // Of one day, the candidate's comes after.
    LocalDate after = version.equals(CANDIDATE) ? date.plusDays(1) : date;
    return new Release(new FirmwareRelease(version, after, false), Optional.empty());
  }

  private static PassEvidence at(PassEvidence p, Slot slot, String firmware) {
    return new PassEvidence(
        p.resultId(),
        slot.session(),
        slot.start(),
        slot.date(),
        p.model(),
        p.unit(),
        p.control(),
        firmware,
        p.condition(),
        p.direction(),
        p.errors(),
        p.referenceM(),
        p.referenceStandardUncertaintyPercent(),
        p.displayStepM(),
        p.exclusion());
  }
}
