package milewarden.web;

import io.javalin.config.JavalinConfig;
import io.javalin.http.sse.SseClient;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Supplier;

/**
 * Tells open pages that something changed, as a stream of server-sent events at {@link #AT}: {@code
 * changed}, upon which a page asks for itself again, and {@code full} where too many listen
 * already. What changed is not told: the page is the only truth.
 *
 * <p>Safe for several threads; {@link #look} is called by one at a time.
 */
public final class Live implements Routes, AutoCloseable {
  /** The stream's address. */
  public static final String AT = "/live";

  /** So many streams at most; a page beyond asks by itself now and then. */
  public static final int STREAMS = 32;

  // Every 15 s at two looks a second: WHATWG HTML, 9.2.7 advises a comment about that often, so
  // that proxies keep the connection.
  private static final int LOOKS_BEFORE_PING = 30;

  private final Supplier<String> state;
  private final Set<SseClient> streams = ConcurrentHashMap.newKeySet();
  private final AtomicInteger open = new AtomicInteger();
  private String last = "";
  private int quiet;
  private volatile boolean closed;

  /**
   * @param state a text that differs whenever a page may have to say something else
   */
  public Live(Supplier<String> state) {
    this.state = state;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.sse(AT, this::open);
  }

  private void open(SseClient stream) {
    if (closed || open.incrementAndGet() > STREAMS) {
      if (!closed) open.decrementAndGet();
      stream.sendEvent("full", "");
      stream.close();
      return;
    }
    stream.keepAlive();
    stream.onClose(
        () -> {
          if (streams.remove(stream)) open.decrementAndGet();
        });
    // One writer at a time, or the server refuses the second.
    synchronized (stream) {
      streams.add(stream);
      // At once, so that a page knows that it is heard.
      stream.sendComment("here");
    }
    if (closed) stream.close();
  }

  /** Looks whether something changed, and says so; the store is not asked where nobody listens. */
  public void look() {
    if (streams.isEmpty()) {
      last = "";
      return;
    }
    String now = state.get();
    boolean changed = !now.equals(last);
    last = now;
    quiet = changed ? 0 : quiet + 1;
    boolean ping = quiet >= LOOKS_BEFORE_PING;
    if (!changed && !ping) return;
    quiet = 0;
    for (SseClient each : streams) tell(each, changed);
  }

  private static void tell(SseClient stream, boolean changed) {
    synchronized (stream) {
      if (changed) stream.sendEvent("changed", "");
      else stream.sendComment("still here");
    }
  }

  /** How many pages listen. */
  public int listeners() {
    return streams.size();
  }

  /** Ends every stream; later ones are ended at once. */
  @Override
  public void close() {
    closed = true;
    for (SseClient each : streams) each.close();
  }
}
