package milewarden.app;

import java.time.Duration;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The end of a server that is asked to stop (SIGTERM, Ctrl-C). */
final class Stopping {
  private static final Logger LOG = LoggerFactory.getLogger(Stopping.class);
  // A stop takes 5 s at most in all; the rest is the machine's. What hangs in another program's
  // lock or in a server that is silent can't be interrupted, and a sudden end loses nothing.
  private static final Duration LONGEST = Duration.ofMillis(4500);
  // What a virtual machine ends with after SIGTERM: 128 + 15.
  private static final int TERMINATED = 143;

  private Stopping() {}

  /** Serves until the process is asked to stop, and returns when everything is closed. */
  static void await(App app) throws InterruptedException {
    CountDownLatch stopped = new CountDownLatch(1);
    Runtime.getRuntime().addShutdownHook(new Thread(() -> stop(app, stopped), "stop"));
    stopped.await();
  }

  private static void stop(App app, CountDownLatch stopped) {
    Thread watch = new Thread(() -> endIfLate(stopped), "stop-watch");
    watch.setDaemon(true);
    watch.start();
    LOG.info("asked to stop");
    app.close();
    LOG.info("stopped");
    stopped.countDown();
  }

  private static void endIfLate(CountDownLatch stopped) {
    try {
      if (stopped.await(LONGEST.toMillis(), TimeUnit.MILLISECONDS)) return;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    LOG.warn("something doesn't end in time and is cut off; the next start goes on with it");
    Runtime.getRuntime().halt(TERMINATED);
  }
}
