package milewarden.schedule;

import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** A named work, whether it is awaited, running, and how it last failed. */
final class Work {
  private static final Logger LOG = LoggerFactory.getLogger(Work.class);

  private final String name;
  private final Runnable task;
  private final BooleanSupplier stopped;
  private final AtomicBoolean awaited = new AtomicBoolean();
  private final ReentrantLock running = new ReentrantLock();
  private volatile @Nullable Thread runner;
  private String lastFailure = "";

  Work(String name, Runnable task, BooleanSupplier stopped) {
    this.name = name;
    this.task = task;
    this.stopped = stopped;
  }

  /** True for the first of several wakings before a run begins. */
  boolean wantsWaking() {
    return awaited.compareAndSet(false, true);
  }

  /** One run; whatever it throws ends here. */
  void run() {
    running.lock();
    try {
      // Cleared before the task looks: what arrives while it runs wakes it again.
      awaited.set(false);
      if (stopped.getAsBoolean()) return;
      runner = Thread.currentThread();
      task.run();
      worked();
    } catch (Throwable t) {
      failed(t);
    } finally {
      runner = null;
      running.unlock();
    }
  }

  private void worked() {
    if (lastFailure.isEmpty()) return;
    LOG.info("work {} runs again", name);
    lastFailure = "";
  }

  // The world's failures, a full disk say, come back every half second: each is told once.
  private void failed(Throwable t) {
    if (stopped.getAsBoolean()) {
      LOG.debug("work {} broke off at the stop", name, t);
      return;
    }
    String failure = t.toString();
    if (failure.equals(lastFailure)) return;
    lastFailure = failure;
    LOG.error("work {} failed and will be tried again: {}", name, failure, t);
  }

  /** Waits for the run under way; interrupts it when the time is up. True where it had ended. */
  boolean endBefore(long untilNanos) {
    try {
      if (running.tryLock(Math.max(0, untilNanos - System.nanoTime()), TimeUnit.NANOSECONDS)) {
        running.unlock();
        return true;
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    LOG.warn("work {} didn't end in time and is interrupted", name);
    Thread thread = runner;
    if (thread != null) thread.interrupt();
    return false;
  }
}
