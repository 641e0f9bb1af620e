package milewarden.schedule;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(60)
final class ClockworkTest {
  private static final Duration NEVER_AGAIN = Duration.ofDays(1);
  private final Clockwork clockwork = new Clockwork();

  @AfterEach
  void stop() {
    clockwork.close();
  }

  @Test
  void aWorkRunsAgainAndAgain() throws Exception {
    CountDownLatch runs = new CountDownLatch(3);
    clockwork.every("count", Duration.ofMillis(5), runs::countDown);
    clockwork.start();
    runs.await();
  }

  @Test
  void aWorkThatThrowsRunsAgain() throws Exception {
    CountDownLatch runs = new CountDownLatch(3);
    clockwork.every(
        "stumble",
        Duration.ofMillis(5),
        () -> {
          runs.countDown();
          throw new IllegalStateException("no matter");
        });
    clockwork.start();
    runs.await();
  }

  @Test
  void aWorkThatIsWokenRunsBeforeItsTime() throws Exception {
    Semaphore ran = new Semaphore(0);
    clockwork.every("sleeper", NEVER_AGAIN, ran::release);
    clockwork.start();
    ran.acquire();
    clockwork.wake("sleeper");
    ran.acquire();
  }

  @Test
  void wakingManyTimesDuringARunMakesOneFurtherRunAndNeverTwoAtOnce() throws Exception {
    Semaphore begun = new Semaphore(0);
    Semaphore go = new Semaphore(0);
    AtomicInteger atOnce = new AtomicInteger();
    AtomicInteger most = new AtomicInteger();
    clockwork.every(
        "busy",
        NEVER_AGAIN,
        () -> {
          most.accumulateAndGet(atOnce.incrementAndGet(), Math::max);
          begun.release();
          go.acquireUninterruptibly();
          atOnce.decrementAndGet();
        });
    Semaphore other = new Semaphore(0);
    clockwork.every("other", NEVER_AGAIN, other::release);
    clockwork.start();
    begun.acquire();
    for (int i = 0; i < 50; i++) clockwork.wake("busy");
    go.release();
    begun.acquire();
    go.release();
    // Woken later than any surplus run of "busy" would have been.
    other.acquire();
    clockwork.wake("other");
    other.acquire();
    assertThat(begun.tryAcquire()).isFalse();
    assertThat(most).hasValue(1);
  }

  @Test
  void aStopLetsTheRunUnderWayEndAndStartsNoOther() throws Exception {
    CountDownLatch begun = new CountDownLatch(1);
    AtomicInteger ended = new AtomicInteger();
    CountDownLatch stopping = new CountDownLatch(1);
    clockwork.every(
        "last",
        NEVER_AGAIN,
        () -> {
          begun.countDown();
          try {
            stopping.await();
          } catch (InterruptedException e) {
            return;
          }
          ended.incrementAndGet();
        });
    clockwork.start();
    begun.await();
    Thread stop = new Thread(clockwork::close);
    stop.start();
    while (stop.getState() == Thread.State.RUNNABLE || stop.getState() == Thread.State.NEW)
      Thread.onSpinWait();
    stopping.countDown();
    stop.join();
    assertThat(ended).hasValue(1);
    clockwork.wake("last");
    assertThat(ended).hasValue(1);
  }

  @Test
  void aRunThatDoesNotEndIsInterrupted() throws Exception {
    CountDownLatch begun = new CountDownLatch(1);
    CountDownLatch interrupted = new CountDownLatch(1);
    clockwork.every(
        "stuck",
        NEVER_AGAIN,
        () -> {
          begun.countDown();
          try {
            new CountDownLatch(1).await();
          } catch (InterruptedException e) {
            interrupted.countDown();
          }
        });
    clockwork.start();
    begun.await();
    clockwork.close();
    assertThat(interrupted.await(30, TimeUnit.SECONDS)).isTrue();
  }

  @Test
  void anUnknownNameASecondWorkOfOneNameAndAPeriodOfZeroAreMistakes() {
    clockwork.every("one", NEVER_AGAIN, () -> {});
    assertThatThrownBy(() -> clockwork.wake("two")).hasMessageContaining("two");
    assertThatThrownBy(() -> clockwork.every("one", NEVER_AGAIN, () -> {}))
        .hasMessageContaining("one");
    assertThatThrownBy(() -> clockwork.every("three", Duration.ZERO, () -> {}))
        .hasMessageContaining("three");
  }
}
