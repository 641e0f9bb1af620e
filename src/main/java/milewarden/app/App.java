package milewarden.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.time.InstantSource;
import java.util.ArrayDeque;
import java.util.Deque;
import milewarden.schedule.Clockwork;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Everything wired together; closes in reverse order. */
public final class App implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(App.class);

  private final Config config;
  private final InstantSource clock;
  private final Deque<AutoCloseable> open = new ArrayDeque<>();

  public App(Config config, InstantSource clock) {
    this.config = config;
    this.clock = clock;
  }

  /** Starts everything; what was started is closed again where a later part fails. */
  public App start() {
    try {
      wire();
      return this;
    } catch (RuntimeException | Error e) {
      close();
      throw e;
    }
  }

  private void wire() {
    try {
      Files.createDirectories(config.data());
    } catch (IOException e) {
      throw new UncheckedIOException("the data folder " + config.data() + " can't be made", e);
    }
    Clockwork clockwork = keep(new Clockwork());
    clockwork.start();
    LOG.debug("started at {}", clock.instant());
  }

  private <T extends AutoCloseable> T keep(T part) {
    open.push(part);
    return part;
  }

  /** The dashboard's port. */
  public int port() {
    return config.port();
  }

  @Override
  public synchronized void close() {
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
