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
 * at a time, step by step. Under a load without an end they end all the same, later.
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
  private final ReentrantLock turn = new ReentrantLock();

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
   * Waits until nothing goes first.
   *
   * @param longest that is waited for
   * @throws CancellationException where the program stops
   */
  public void await(Duration longest) {
    long start = nanoTime.getAsLong();
    mayGoOn();
    while (busy.getAsBoolean() && nanoTime.getAsLong() - start < longest.toNanos()) {
      pause.run();
      mayGoOn();
    }
  }

  /**
   * Does a work once no other is under way.
   *
   * @throws CancellationException where the program stops before its turn comes
   */
  public void inTurn(Runnable work) {
    try {
      while (!turn.tryLock(LOOK.toMillis(), TimeUnit.MILLISECONDS)) mayGoOn();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new CancellationException("interrupted");
    }
    try {
      work.run();
    } finally {
      turn.unlock();
    }
  }

  private void mayGoOn() {
    if (stopping.getAsBoolean() || Thread.currentThread().isInterrupted())
      throw new CancellationException("the program stops");
  }
}
