package milewarden.web;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.sse.SseClient;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Tells open pages that something changed, as a stream of server-sent events at {@link #AT}: {@code
 * state} with a mark of the present state, upon which a page that was made in another state asks
 * for itself again, and {@code full} where too many listen already. What changed is not told: the
 * page is the only truth.
 *
 * <p>Safe for several threads; {@link #look} is called by one at a time.
 */
public final class Live implements Routes, AutoCloseable {
  /** The stream's address. */
  public static final String AT = "/live";

  /** So many streams at most; a page beyond asks by itself now and then. */
  public static final int STREAMS = 32;

  private static final Logger LOG = LoggerFactory.getLogger(Live.class);
  // Of a page in the making; its frame carries it.
  private static final String MADE_IN = "milewarden.state";
  // Every 15 s at two looks a second: WHATWG HTML, 9.2.7 advises to write about that often, so that
  // proxies keep the connection. The state is said again then, so that a page that missed it has
  // it.
  static final int LOOKS_BEFORE_PING = 30;

  private final Supplier<String> state;
  private final Set<SseClient> streams = ConcurrentHashMap.newKeySet();
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
    config.routes.before(this::mark);
    config.routes.sse(AT, this::open);
  }

  /** Marks a page that is asked for before it is read: what changes meanwhile is then seen. */
  private void mark(Context http) {
    String accepted = http.header("Accept");
    if (accepted != null && accepted.contains("text/html")) http.attribute(MADE_IN, now());
  }

  /** The state in which a page was begun; empty where nobody looks. */
  static String madeIn(Context http) {
    String mark = http.attribute(MADE_IN);
    return mark == null ? "" : mark;
  }

  private void open(SseClient stream) {
    synchronized (streams) {
      if (closed || streams.size() >= STREAMS) {
        // An event without data is none to a browser: WHATWG HTML, 9.2.6.
        stream.sendEvent("full", "full");
        stream.close();
        return;
      }
      streams.add(stream);
    }
    stream.keepAlive();
    stream.onClose(() -> streams.remove(stream));
    tell(stream, now());
    if (closed) end(stream);
  }

  /** Looks whether something changed, and says so; the store is not asked where nobody listens. */
  public void look() {
    if (streams.isEmpty()) return;
    String now = now();
    boolean changed = !now.equals(last);
    last = now;
    quiet = changed ? 0 : quiet + 1;
    boolean ping = quiet >= LOOKS_BEFORE_PING;
    if (!changed && !ping) return;
    quiet = 0;
    for (SseClient each : streams) tell(each, now);
  }

  /** Says the state. A stream that fails is given up, alone. */
  private void tell(SseClient stream, String now) {
    try {
      // One writer at a time, or the server refuses the second.
      synchronized (stream) {
        stream.sendEvent("state", now);
      }
    } catch (RuntimeException e) {
      LOG.debug("a page stopped listening", e);
      end(stream);
    }
  }

  private void end(SseClient stream) {
    streams.remove(stream);
    try {
      stream.close();
    } catch (RuntimeException e) {
      LOG.debug("a stream was gone already", e);
    }
  }

  private String now() {
    try {
      byte[] digest =
          MessageDigest.getInstance("SHA-256").digest(state.get().getBytes(StandardCharsets.UTF_8));
      return HexFormat.of().formatHex(digest, 0, 8);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
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
    for (SseClient each : streams) end(each);
  }
}
