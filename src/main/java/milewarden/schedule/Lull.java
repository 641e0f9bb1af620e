package milewarden.schedule;

import java.time.Duration;
import java.util.concurrent.CancellationException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;

/**
 * Lets long works that nobody waits for go on while the program has nothing else to do: one of them
 * at a time, step by step, and by turns where several want to. Under a load without an end they end
 * all the same, later.
 *
 * <p>Safe for use by several threads.
 */
public final class Lull {
  // Short beside what an eye takes for at once; a look costs next to nothing.
  private static final Duration LOOK = Duration.ofMillis(50);

  private final BooleanSupplier busy;
  private final BooleanSupplier stopping;
  private final LongSupplier nanoTime;
  private final Runnable pause;
  // Fair: whoever hands it over comes after those that wait.
  private final ReentrantLock turn = new ReentrantLock(true);

  /**
   * @param busy true while something goes first
   * @param stopping true once works are to end
   */
  public Lull(BooleanSupplier busy, BooleanSupplier stopping) {
    this(busy, stopping, System::nanoTime, () -> LockSupport.parkNanos(LOOK.toNanos()));
  }

  Lull(BooleanSupplier busy, BooleanSupplier stopping, LongSupplier nanoTime, Runnable pause) {
    this.busy = busy;
    this.stopping = stopping;
    this.nanoTime = nanoTime;
    this.pause = pause;
  }

  /**
   * Waits until nothing goes first. A work in its turn lets another have a step before.
   *
   * @param longest that is waited for
   * @throws CancellationException where the program stops
   */
  public void await(Duration longest) {
    mayGoOn();
    if (turn.isHeldByCurrentThread() && turn.hasQueuedThreads()) {
      turn.unlock();
      take();
    }
    rest(longest);
  }

  /**
   * Waits the same in the midst of a step, and keeps its turn.
   *
   * @throws CancellationException where the program stops
   */
  public void rest(Duration longest) {
    long start = nanoTime.getAsLong();
    mayGoOn();
    while (busy.getAsBoolean() && nanoTime.getAsLong() - start < longest.toNanos()) {
      pause.run();
      mayGoOn();
    }
  }

  /**
   * Does a work once no other is under way, or another lets it have a step.
   *
   * @throws CancellationException where the program stops before its turn comes
   */
  public void inTurn(Runnable work) {
    take();
    try {
      work.run();
    } finally {
      // A stop may have come while another had it.
      if (turn.isHeldByCurrentThread()) turn.unlock();
    }
  }

  private void take() {
    try {
      while (!turn.tryLock(LOOK.toMillis(), TimeUnit.MILLISECONDS)) mayGoOn();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new CancellationException("interrupted");
    }
  }

  private void mayGoOn() {
    if (stopping.getAsBoolean() || Thread.currentThread().isInterrupted())
      throw new CancellationException("the program stops");
  }
}
