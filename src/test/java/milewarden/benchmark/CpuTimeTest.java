package milewarden.benchmark;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;

final class CpuTimeTest {
  private static final long WORK_NS = 200_000_000;

  @Test
  void aThreadThatEndsTakesNothingAwayThatWasBefore() throws InterruptedException {
    CountDownLatch worked = new CountDownLatch(1);
    CountDownLatch end = new CountDownLatch(1);
    Thread worker =
        new Thread(
            () -> {
              work(WORK_NS);
              worked.countDown();
              await(end);
            });
    worker.start();
    worked.await();
    CpuTime.Start start = CpuTime.start();
    end.countDown();
    worker.join();
    work(WORK_NS / 10);
    assertTrue(start.ns() >= WORK_NS / 20, "nanoseconds: " + start.ns());
  }

  private static void await(CountDownLatch latch) {
    try {
      latch.await();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Until this thread has been on the processor for so long. */
  private static void work(long ns) {
    var threads = java.lang.management.ManagementFactory.getThreadMXBean();
    long until = threads.getCurrentThreadCpuTime() + ns;
    double sum = 0;
    while (threads.getCurrentThreadCpuTime() < until)
      for (int i = 0; i < 1000; i++) sum += Math.sqrt(i);
    if (sum < 0) throw new IllegalStateException();
  }
}
