package milewarden.review;

import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import milewarden.accuracy.Engine;
import milewarden.store.Database;
import milewarden.store.judged.AaRates;
import milewarden.store.judged.Recomputations;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.Models;
import milewarden.verdict.ModelHistory;
import milewarden.verdict.Policy;
import milewarden.verdict.replay.AaRate;
import milewarden.verdict.replay.AaReplay;

/**
 * Measures how often this installation's comparisons fire when nothing changed, from its own
 * unchanged periods. The same store gives the same rate: the seed is fixed.
 */
public final class FalseAlarms {
  // Enough for a Monte Carlo error of half a percentage point at 5 %; seconds of computing.
  private static final int SPLITS = 2000;
  // More of one period tell little: they are all made of the same sessions.
  private static final int MOST_OF_ONE = 400;
  private static final long SEED = 20261125L;
  // The rate moves with new sessions only; a week's are few.
  private static final Duration FRESH = Duration.ofDays(7);

  private final Database database;
  private final Policy policy;
  private final ZoneId zone;

  public FalseAlarms(Database database, Policy policy, ZoneId zone) {
    this.database = database;
    this.policy = policy;
    this.zone = zone;
  }

  /** A release with sessions enough; never the passes, which are many. */
  private record Candidate(Models.Model model, String firmware, int sessions) {}

  /**
   * Measures and keeps the rate, unless it was measured within a week by this engine.
   *
   * @param giveWay called before each step, which takes a moment; what it throws ends the measuring
   *     with nothing kept
   */
  public void keepFresh(Runnable giveWay) {
    boolean due =
        database.read(
            tx ->
                Recomputations.pending(tx) == 0
                    && AaRates.latest(tx)
                        .filter(m -> m.engineVersion().equals(Engine.VERSION))
                        .filter(m -> m.at().plus(FRESH).isAfter(tx.now()))
                        .isEmpty());
    if (!due) return;
    AaRate rate = measure(SPLITS, giveWay);
    if (rate.splits() > 0) database.change(tx -> AaRates.add(tx, Engine.VERSION, rate));
  }

  /**
   * Measures the rate and keeps nothing.
   *
   * @param splits in all, at most
   */
  public AaRate measure(int splits) {
    return measure(splits, () -> {});
  }

  private AaRate measure(int splits, Runnable giveWay) {
    List<Candidate> candidates = candidates(giveWay);
    if (candidates.isEmpty()) return new AaRate(List.of());
    int each = Math.min(MOST_OF_ONE, Math.max(1, splits / candidates.size()));
    int used = (int) Math.min(candidates.size(), (splits + each - 1L) / each);
    Map<Models.Model, List<Integer>> byModel = new LinkedHashMap<>();
    for (int i = 0; i < used; i++)
      byModel.computeIfAbsent(candidates.get(i).model(), m -> new ArrayList<>()).add(i);
    // One model's passes at a time: those of all models together may not fit into memory.
    SortedMap<Integer, AaReplay.Period> periods = new TreeMap<>();
    byModel.forEach(
        (model, of) -> {
          giveWay.run();
          ModelHistory history = database.read(tx -> Histories.of(tx, model));
          for (int i : of)
            period(
                    history,
                    candidates.get(i).firmware(),
                    Math.min(each, splits - i * each),
                    giveWay)
                .ifPresent(p -> periods.put(i, p));
        });
    return new AaRate(List.copyOf(periods.values()));
  }

  private Optional<AaReplay.Period> period(
      ModelHistory history, String firmware, int splits, Runnable giveWay) {
    long seed = SEED ^ ((long) history.model().hashCode() << 32) ^ firmware.hashCode();
    return AaReplay.of(history, firmware, policy, zone, splits, seed, giveWay);
  }

  /** Releases by the number of their sessions, the most first. */
  private List<Candidate> candidates(Runnable giveWay) {
    int least = policy.looks().get(0).sessions() + policy.insufficientSessions();
    List<Candidate> all = new ArrayList<>();
    for (Models.Model model : database.read(Models::all)) {
      giveWay.run();
      database
          .read(tx -> EvidenceRows.sessions(tx, model.id(), Engine.VERSION))
          .forEach(
              (version, sessions) -> {
                if (sessions >= least) all.add(new Candidate(model, version, sessions));
              });
    }
    all.sort(
        Comparator.comparingInt(Candidate::sessions)
            .reversed()
            .thenComparing(c -> c.model().name())
            .thenComparing(Candidate::firmware));
    return all;
  }
}
