package milewarden.store;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * Bytes that have just come, known by their SHA-256: whoever measures them next need not read them
 * back and unpack them. Never more than a help: what is not here lies in the store.
 */
public final class Lately {
  /** Our own choice: as much as is measured side by side. */
  private static final long MOST_BYTES = 16L << 20;

  private final Map<String, byte[]> held = new LinkedHashMap<>();
  private long size;

  Lately() {}

  /** Holds bytes for a while; what came first goes first. */
  public synchronized void hold(String sha256, byte[] bytes) {
    if (bytes.length > MOST_BYTES || held.containsKey(sha256)) return;
    held.put(sha256, bytes);
    size += bytes.length;
    while (size > MOST_BYTES) take(held.keySet().iterator().next());
  }

  /** Nobody waits for any of them. */
  public synchronized void clear() {
    held.clear();
    size = 0;
  }

  /** Takes them out. */
  public synchronized Optional<byte[]> take(String sha256) {
    Optional<byte[]> bytes = Optional.ofNullable(held.remove(sha256));
    bytes.ifPresent(b -> size -= b.length);
    return bytes;
  }
}
