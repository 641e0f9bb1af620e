package milewarden.app;

import java.util.ArrayDeque;
import java.util.Deque;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** What was started; it is closed in reverse order, whatever one of them does at its end. */
final class Parts implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Parts.class);

  private final Deque<AutoCloseable> open = new ArrayDeque<>();

  <T extends AutoCloseable> T keep(T part) {
    open.push(part);
    return part;
  }

  @Override
  public void close() {
    while (!open.isEmpty()) {
      AutoCloseable part = open.pop();
      try {
        part.close();
      } catch (Exception e) {
        LOG.warn("{} didn't close cleanly", part.getClass().getSimpleName(), e);
      }
    }
  }
}
