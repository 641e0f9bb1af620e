package milewarden.schedule;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CancellationException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(60)
final class LullTest {
  private static final Duration LONGEST = Duration.ofSeconds(2);
  private final AtomicLong nanos = new AtomicLong();
  private final AtomicInteger pauses = new AtomicInteger();

  /** Busy for so many pauses of 100 ms; stopped after so many. */
  private Lull lull(int busy, int stopped) {
    return new Lull(
        () -> pauses.get() < busy,
        () -> pauses.get() >= stopped,
        nanos::get,
        () -> {
          pauses.incrementAndGet();
          nanos.addAndGet(Duration.ofMillis(100).toNanos());
        });
  }

  @Test
  void atRestNothingWaits() {
    lull(0, 100).await(LONGEST);
    assertThat(pauses).hasValue(0);
  }

  @Test
  void aStepWaitsWhileSomethingGoesFirst() {
    lull(7, 100).await(LONGEST);
    assertThat(pauses).hasValue(7);
  }

  @Test
  void underALoadWithoutAnEndAStepWaitsForItsLongest() {
    lull(Integer.MAX_VALUE, 100).await(LONGEST);
    assertThat(pauses).hasValue(20);
  }

  @Test
  void aStopEndsTheWaiting() {
    assertThatThrownBy(() -> lull(Integer.MAX_VALUE, 3).await(LONGEST))
        .isInstanceOf(CancellationException.class);
    assertThat(pauses).hasValue(3);
  }

  @Test
  void aStopEndsTheWorkAlsoWhereNothingGoesFirst() {
    assertThatThrownBy(() -> lull(0, 0).await(LONGEST)).isInstanceOf(CancellationException.class);
  }

  @Test
  void worksComeOneAfterAnother() throws Exception {
    Lull lull = new Lull(() -> false, () -> false);
    AtomicInteger atWork = new AtomicInteger();
    AtomicInteger most = new AtomicInteger();
    CountDownLatch ready = new CountDownLatch(4);
    List<Thread> threads = new ArrayList<>();
    for (int i = 0; i < 4; i++) {
      Thread thread =
          new Thread(
              () -> {
                ready.countDown();
                for (int j = 0; j < 200; j++)
                  lull.inTurn(
                      () -> {
                        most.accumulateAndGet(atWork.incrementAndGet(), Math::max);
                        Thread.yield();
                        atWork.decrementAndGet();
                      });
              });
      threads.add(thread);
      thread.start();
    }
    ready.await();
    for (Thread thread : threads) thread.join();
    assertThat(most).hasValue(1);
  }

  @Test
  void aWorkOfManyStepsLetsAnotherHaveItsTurnBetweenThem() throws Exception {
    Lull lull = new Lull(() -> false, () -> false);
    CountDownLatch begun = new CountDownLatch(1);
    AtomicBoolean done = new AtomicBoolean();
    AtomicBoolean inAStep = new AtomicBoolean();
    AtomicBoolean met = new AtomicBoolean();
    // Its steps have no end of their own.
    Thread many =
        new Thread(
            () ->
                lull.inTurn(
                    () -> {
                      begun.countDown();
                      while (!done.get()) {
                        lull.await(LONGEST);
                        inAStep.set(true);
                        Thread.yield();
                        inAStep.set(false);
                      }
                    }));
    many.start();
    begun.await();
    lull.inTurn(
        () -> {
          met.set(inAStep.get());
          done.set(true);
        });
    many.join();
    assertThat(met).as("one at a time").isFalse();
  }

  @Test
  void aRestInTheMidstOfAStepKeepsTheTurn() throws Exception {
    Lull lull = new Lull(() -> false, () -> false);
    AtomicBoolean first = new AtomicBoolean();
    AtomicBoolean order = new AtomicBoolean();
    Thread second = new Thread(() -> lull.inTurn(() -> order.set(first.get())));
    lull.inTurn(
        () -> {
          second.start();
          while (second.getState() != Thread.State.TIMED_WAITING) Thread.onSpinWait();
          for (int i = 0; i < 100; i++) lull.rest(LONGEST);
          first.set(true);
        });
    second.join();
    assertThat(order).as("after the end of the first").isTrue();
  }

  @Test
  void aStopWhileAnotherHasTheTurnEndsTheWorkThatLentIt() throws Exception {
    AtomicBoolean stopping = new AtomicBoolean();
    Lull lull = new Lull(() -> false, stopping::get);
    CountDownLatch begun = new CountDownLatch(1);
    AtomicReference<Throwable> ended = new AtomicReference<>();
    Thread lender =
        new Thread(
            () -> {
              try {
                lull.inTurn(
                    () -> {
                      begun.countDown();
                      while (true) lull.await(LONGEST);
                    });
              } catch (RuntimeException e) {
                ended.set(e);
              }
            });
    lender.start();
    begun.await();
    lull.inTurn(
        () -> {
          stopping.set(true);
          try {
            lender.join();
          } catch (InterruptedException e) {
            throw new IllegalStateException(e);
          }
        });
    assertThat(ended.get()).isInstanceOf(CancellationException.class);
  }

  @Test
  void aWorkWhoseTurnHasNotComeEndsAtAStop() throws Exception {
    AtomicBoolean stopping = new AtomicBoolean();
    Lull lull = new Lull(() -> false, stopping::get);
    CountDownLatch begun = new CountDownLatch(1);
    CountDownLatch end = new CountDownLatch(1);
    Thread first =
        new Thread(
            () ->
                lull.inTurn(
                    () -> {
                      begun.countDown();
                      awaitIt(end);
                    }));
    first.start();
    begun.await();
    stopping.set(true);
    assertThatThrownBy(() -> lull.inTurn(() -> {})).isInstanceOf(CancellationException.class);
    end.countDown();
    first.join();
  }

  private static void awaitIt(CountDownLatch latch) {
    try {
      latch.await();
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }
}
