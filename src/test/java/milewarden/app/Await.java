package milewarden.app;

import java.time.Duration;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;

/** Waits for a condition, and says what it waited for in vain. */
final class Await {
  // Nothing here takes long; a machine under load may.
  private static final Duration LONGEST = Duration.ofMinutes(3);
  private static final Duration LOOK = Duration.ofMillis(10);

  private Await() {}

  static void until(String what, Supplier<?> state, BooleanSupplier condition) {
    long end = System.nanoTime() + LONGEST.toNanos();
    while (!condition.getAsBoolean()) {
      if (System.nanoTime() > end)
        throw new AssertionError("waited in vain until " + what + "; now: " + state.get());
      LockSupport.parkNanos(LOOK.toNanos());
    }
  }
}
