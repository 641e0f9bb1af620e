package milewarden.people;

import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * How often something may be tried: a bucket of tries for each key, which fills up again with time
 * (the token bucket). A clock that is set back neither fills nor empties it.
 */
public final class Throttle {
  // Full buckets are forgotten when there are so many, so that nobody fills the memory with keys.
  private static final int MOST_KEYS = 10_000;

  private final int tries;
  private final Duration each;
  private final Map<String, Bucket> buckets = new HashMap<>();

  /**
   * @param tries that may be made at once
   * @param each time in which one comes back
   */
  public Throttle(int tries, Duration each) {
    if (tries < 1 || each.isZero() || each.isNegative())
      throw new IllegalArgumentException(tries + " tries, one each " + each);
    this.tries = tries;
    this.each = each;
  }

  private record Bucket(double left, Instant at) {}

  /** Takes one try; where none is left, how long to wait for it. */
  public Optional<Duration> take(String key, Instant now) {
    return take(key, 1, now);
  }

  /** Takes so many tries, or none: then how long to wait for them. */
  public synchronized Optional<Duration> take(String key, int count, Instant now) {
    if (buckets.size() >= MOST_KEYS) forget(now);
    double left = left(key, now);
    // More than ever fit are let through when it is full.
    double wanted = Math.min(count, tries);
    if (left < wanted) return Optional.of(wait(wanted - left));
    buckets.put(key, new Bucket(left - count, now));
    return Optional.empty();
  }

  /** Forgets the tries of a key: it was in its right. */
  public synchronized void clear(String key) {
    buckets.remove(key);
  }

  private double left(String key, Instant now) {
    Bucket bucket = buckets.get(key);
    if (bucket == null) return tries;
    double passed = Math.max(0, Duration.between(bucket.at(), now).toNanos());
    return Math.min(tries, bucket.left() + passed / each.toNanos());
  }

  private Duration wait(double missing) {
    return Duration.ofNanos((long) Math.ceil(missing * each.toNanos()));
  }

  // Where all are in use, the one that is fullest goes: it loses the least.
  private void forget(Instant now) {
    buckets.keySet().removeIf(key -> left(key, now) >= tries);
    if (buckets.size() < MOST_KEYS) return;
    buckets.keySet().stream()
        .max(java.util.Comparator.comparingDouble(key -> left(key, now)))
        .ifPresent(buckets::remove);
  }
}
