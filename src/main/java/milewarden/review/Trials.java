package milewarden.review;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import milewarden.verdict.Policy;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Dry runs of policies that are under way or done, one after the other: each can be left and found
 * again by its number until the program ends or ten more were begun. Safe for many threads.
 */
public final class Trials {
  private static final Logger LOG = LoggerFactory.getLogger(Trials.class);
  private static final int KEPT = 10;

  private final DryRun dryRun;
  private final List<Trial> kept = new ArrayList<>();
  private final ExecutorService worker =
      Executors.newSingleThreadExecutor(
          work -> {
            Thread thread = new Thread(work, "dry-run");
            thread.setDaemon(true);
            return thread;
          });
  private int begun;

  public Trials(DryRun dryRun) {
    this.dryRun = dryRun;
  }

  /**
   * How far a dry run is.
   *
   * @param pasted text that the policy was read from; empty where it came from single fields
   * @param done models that were judged
   * @param of models in all; 0 where it waits for another
   * @param found empty while it is under way
   * @param failed true where it broke off; the log says why
   */
  public record Trial(
      int number,
      Policy policy,
      String pasted,
      int done,
      int of,
      Optional<Forecast> found,
      boolean failed) {
    /** True where nothing more comes. */
    public boolean over() {
      return found.isPresent() || failed;
    }
  }

  /** Begins a dry run, and gives its number. */
  public synchronized int begin(Policy policy, String pasted) {
    int number = ++begun;
    kept.add(new Trial(number, policy, pasted, 0, 0, Optional.empty(), false));
    if (kept.size() > KEPT) kept.remove(0);
    worker.execute(() -> run(number, policy));
    return number;
  }

  private void run(int number, Policy policy) {
    try {
      Forecast found = dryRun.policy(policy, (done, of) -> at(number, done, of));
      replace(number, t -> with(t, t.done(), t.of(), Optional.of(found), false));
    } catch (RuntimeException e) {
      LOG.error("dry run {} broke off", number, e);
      replace(number, t -> with(t, t.done(), t.of(), Optional.empty(), true));
    }
  }

  private void at(int number, int done, int of) {
    replace(number, t -> with(t, done, of, Optional.empty(), false));
  }

  private static Trial with(Trial t, int done, int of, Optional<Forecast> found, boolean failed) {
    return new Trial(t.number(), t.policy(), t.pasted(), done, of, found, failed);
  }

  private synchronized void replace(int number, java.util.function.UnaryOperator<Trial> change) {
    kept.replaceAll(t -> t.number() == number ? change.apply(t) : t);
    notifyAll();
  }

  /** Empty where it was never begun, or so long ago that it is not kept. */
  public synchronized Optional<Trial> find(int number) {
    return kept.stream().filter(t -> t.number() == number).findFirst();
  }

  /** The trial, once it is over or this much time has gone. */
  public synchronized Optional<Trial> wait(int number, Duration most) {
    long end = System.nanoTime() + most.toNanos();
    try {
      while (find(number).filter(t -> !t.over()).isPresent()) {
        long left = (end - System.nanoTime()) / 1_000_000;
        if (left <= 0) break;
        wait(left);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    return find(number);
  }

  /** All that are kept, the newest first. */
  public synchronized List<Trial> all() {
    List<Trial> all = new ArrayList<>(kept);
    java.util.Collections.reverse(all);
    return all;
  }
}
