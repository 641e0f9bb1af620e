package milewarden.schedule;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.time.Duration;
import java.time.Instant;
import java.util.Date;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.quartz.Trigger;
import org.quartz.spi.OperableTrigger;
import org.slf4j.LoggerFactory;

@Timeout(60)
final class ClockworkTest {
  private static final Duration NEVER_AGAIN = Duration.ofDays(1);
  private final AtomicReference<Instant> time =
      new AtomicReference<>(Instant.parse("2026-10-25T00:59:00Z"));
  private final AtomicLong nanos = new AtomicLong();
  private final Clockwork clockwork = new Clockwork(time::get, nanos::get);

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
  void aWorkMayBeginLate() {
    Trigger late = Clockwork.trigger("late", Duration.ofMinutes(3), NEVER_AGAIN);
    assertThat(late.getStartTime().toInstant())
        .isBetween(Instant.now().plusSeconds(170), Instant.now().plusSeconds(180));
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
  void aWorkThatIsToBeWokenLaterRunsNotBeforeThat() throws Exception {
    CountDownLatch runs = new CountDownLatch(2);
    clockwork.every("later", Duration.ofHours(1), runs::countDown);
    clockwork.start();
    long from = System.nanoTime();
    clockwork.wakeAfter("later", Duration.ofMillis(100));
    runs.await();
    assertThat(Duration.ofNanos(System.nanoTime() - from))
        .isGreaterThanOrEqualTo(Duration.ofMillis(100));
  }

  private void pass(Duration wall, Duration really) {
    time.updateAndGet(t -> t.plus(wall));
    nanos.addAndGet(really.toNanos());
    clockwork.lookAtTheClock();
  }

  @Test
  void aClockThatIsSetBackHoldsNoWorkUp() throws Exception {
    Semaphore ran = new Semaphore(0);
    clockwork.every("daily", NEVER_AGAIN, ran::release);
    clockwork.start();
    ran.acquire();
    pass(Duration.ofHours(-3).plusSeconds(5), Duration.ofSeconds(5));
    ran.acquire();
    // And again later: the first time is not all that it was good for.
    pass(Duration.ofSeconds(-30), Duration.ofSeconds(5));
    ran.acquire();
  }

  @Test
  void aClockThatStandsStillIsSaidOnceAndAgainAfterItWentOn() {
    ListAppender<ILoggingEvent> logged = new ListAppender<>();
    Logger log = (Logger) LoggerFactory.getLogger(Clockwork.class);
    logged.start();
    log.addAppender(logged);
    try {
      for (int i = 0; i < 5; i++) pass(Duration.ZERO, Duration.ofSeconds(5));
      assertThat(logged.list).hasSize(1);
      pass(Duration.ofSeconds(5), Duration.ofSeconds(5));
      pass(Duration.ZERO, Duration.ofSeconds(5));
      assertThat(logged.list).hasSize(2);
    } finally {
      log.detachAppender(logged);
    }
  }

  @Test
  void aClockThatGoesOnOrAheadBeginsNothingAnew() throws Exception {
    Semaphore ran = new Semaphore(0);
    Semaphore other = new Semaphore(0);
    clockwork.every("daily", NEVER_AGAIN, ran::release);
    clockwork.every("other", NEVER_AGAIN, other::release);
    clockwork.start();
    ran.acquire();
    other.acquire();
    pass(Duration.ofSeconds(5), Duration.ofSeconds(5));
    // The change from summer time moves no instant; this is a clock that was late.
    pass(Duration.ofHours(1), Duration.ofSeconds(5));
    // A time service slews by fractions of a second.
    pass(Duration.ofMillis(4500), Duration.ofSeconds(5));
    clockwork.wake("other");
    other.acquire();
    assertThat(ran.tryAcquire()).isFalse();
  }

  @Test
  void afterASleepAWorkRunsAtOnceAndNotAPeriodLater() throws Exception {
    // Quartz takes a firing that is over a minute late for a misfire: a sleep without sleeping.
    Trigger late =
        Clockwork.trigger("night", Duration.ZERO, NEVER_AGAIN)
            .getTriggerBuilder()
            .startAt(Date.from(Instant.now().minus(Duration.ofHours(30))))
            .build();
    ((OperableTrigger) late).computeFirstFireTime(null);
    Instant before = Instant.now();
    ((OperableTrigger) late).updateAfterMisfire(null);
    assertThat(late.getNextFireTime().toInstant())
        .isBetween(before.minusSeconds(1), Instant.now().plusSeconds(1));
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
