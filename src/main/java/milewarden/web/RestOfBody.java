package milewarden.web;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.time.Duration;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What is still on its way of a body that is refused. A sender that writes all before it reads
 * would find the connection broken where nobody takes it, and never see why (RFC 9112, section
 * 9.6).
 */
final class RestOfBody {
  private static final Logger LOG = LoggerFactory.getLogger(RestOfBody.class);
  // Both are the project's own choice, no source: a flood is cut off, a season of recordings isn't.
  private static final long MOST_BYTES = 64L << 20;
  private static final Duration LONGEST = Duration.ofSeconds(5);

  private RestOfBody() {}

  /** Takes the rest and throws it away, unless it is too much or comes too slowly. */
  static void take(Context http) {
    long until = System.nanoTime() + LONGEST.toNanos();
    byte[] waste = new byte[1 << 14];
    long bytes = 0;
    try {
      InputStream in = http.req().getInputStream();
      while (bytes <= MOST_BYTES && System.nanoTime() < until) {
        int read = in.read(waste);
        if (read < 0) return;
        bytes += read;
      }
    } catch (IOException | IllegalStateException e) {
      LOG.debug("the rest of a refused body can't be read", e);
    }
  }
}
