package milewarden.review;

import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.store.Database;
import milewarden.store.judged.AaRates;
import milewarden.store.judged.Recomputations;
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

  private record Candidate(ModelHistory history, String firmware, int sessions) {}

  /** Measures and keeps the rate, unless it was measured within a week by this engine. */
  public void keepFresh() {
    boolean due =
        database.read(
            tx ->
                Recomputations.pending(tx) == 0
                    && AaRates.latest(tx)
                        .filter(m -> m.engineVersion().equals(Engine.VERSION))
                        .filter(m -> m.at().plus(FRESH).isAfter(tx.now()))
                        .isEmpty());
    if (!due) return;
    AaRate rate = measure(SPLITS);
    if (rate.splits() > 0) database.change(tx -> AaRates.add(tx, Engine.VERSION, rate));
  }

  /**
   * Measures the rate and keeps nothing.
   *
   * @param splits in all, at most
   */
  public AaRate measure(int splits) {
    List<Candidate> candidates = database.read(this::candidates);
    List<AaReplay.Period> periods = new ArrayList<>();
    if (candidates.isEmpty()) return new AaRate(periods);
    int each = Math.min(MOST_OF_ONE, Math.max(1, splits / candidates.size()));
    int left = splits;
    for (Candidate c : candidates) {
      if (left <= 0) break;
      long seed = SEED ^ ((long) c.history().model().hashCode() << 32) ^ c.firmware().hashCode();
      Optional<AaReplay.Period> period =
          AaReplay.of(c.history(), c.firmware(), policy, zone, Math.min(each, left), seed);
      period.ifPresent(periods::add);
      left -= each;
    }
    return new AaRate(periods);
  }

  /** Releases by the number of their sessions, the most first. */
  private List<Candidate> candidates(milewarden.store.Tx tx) {
    int least = policy.looks().get(0).sessions() + policy.insufficientSessions();
    List<Candidate> all = new ArrayList<>();
    for (Models.Model model : Models.all(tx)) {
      ModelHistory history = Histories.of(tx, model);
      for (ModelHistory.Release r : history.releases()) {
        String version = r.release().version();
        int sessions =
            (int)
                history.passesOf(version).stream()
                    .filter(p -> p.exclusion().isEmpty())
                    .map(p -> p.session())
                    .distinct()
                    .count();
        if (sessions >= least) all.add(new Candidate(history, version, sessions));
      }
    }
    all.sort(
        Comparator.comparingInt(Candidate::sessions)
            .reversed()
            .thenComparing(c -> c.history().model())
            .thenComparing(Candidate::firmware));
    return all;
  }
}
