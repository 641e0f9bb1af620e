package milewarden.web;

import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.atomic.AtomicLong;
import org.eclipse.jetty.util.thread.QueuedThreadPool;

/** The running server: pages, JSON and assets. */
public final class WebServer implements AutoCloseable {
  // Not waited for: an open browser keeps its connection and would hold up the end. Every change is
  // one transaction, so a request that is cut off has happened wholly or not at all.
  private static final long STOP_TIMEOUT_MS = 0;

  // The server library's own defaults.
  private static final int MOST_THREADS = 250;
  private static final int LEAST_THREADS = 8;
  private static final int IDLE_MS = 60_000;

  // Whoever was answered this long ago may still ask for what the page is made of, or read on; the
  // project's own choice.
  private static final Duration JUST_NOW = Duration.ofMillis(500);

  private final Javalin javalin;
  private final String host;
  private final QueuedThreadPool threads;
  private final AtomicLong asked;

  private WebServer(Javalin javalin, String host, QueuedThreadPool threads, AtomicLong asked) {
    this.javalin = javalin;
    this.host = host;
    this.threads = threads;
    this.asked = asked;
  }

  /** Starts at once; an occupied port is an unchecked failure that names it. */
  public static WebServer start(WebSettings settings, Renderer renderer, List<Routes> routes) {
    return start(settings, renderer, new Guard(renderer, settings, Guard.Limits.DEFAULT), routes);
  }

  static WebServer start(
      WebSettings settings, Renderer renderer, Guard guard, List<Routes> routes) {
    QueuedThreadPool threads = threads();
    AtomicLong asked = new AtomicLong(System.nanoTime() - JUST_NOW.toNanos());
    Javalin javalin =
        Javalin.create(
            config -> {
              configure(config, threads);
              config.routes.before(http -> asked.set(System.nanoTime()));
              config.routes.after(http -> asked.set(System.nanoTime()));
              config.fileRenderer(renderer);
              guard.add(config);
              new Assets().add(config);
              for (Routes each : routes) each.add(config);
            });
    // By any address it is reached from this machine by the loopback address, too.
    String host = settings.isAny() ? WebSettings.LOOPBACK : settings.address();
    return new WebServer(javalin.start(settings.address(), settings.port()), host, threads, asked);
  }

  static void configure(JavalinConfig config) {
    configure(config, threads());
  }

  private static void configure(JavalinConfig config, QueuedThreadPool threads) {
    config.startup.startupWatcherEnabled = false;
    config.startup.showJavalinBanner = false;
    config.jetty.threadPool = threads;
    config.jetty.modifyServer(server -> server.setStopTimeout(STOP_TIMEOUT_MS));
  }

  // As the server library makes it, but for the queue: its own asks the machine for the size of a
  // cache line by way of the management beans, a twentieth of the work of a start.
  private static QueuedThreadPool threads() {
    QueuedThreadPool threads =
        new QueuedThreadPool(MOST_THREADS, LEAST_THREADS, IDLE_MS, new LinkedBlockingQueue<>());
    threads.setName("JettyServerThreadPool");
    return threads;
  }

  /** Every route by method and path, as it was added. */
  public List<String> routes() {
    return javalin.unsafe.internalRouter.allHttpHandlers().stream()
        .map(r -> r.endpoint)
        .filter(e -> e.method.isHttpMethod())
        .map(e -> e.method.name() + " " + e.path)
        .toList();
  }

  /**
   * True while an answer is being made, and for half a second after one. A page that stays open and
   * waits to be told of changes is none.
   */
  public boolean isAnswering() {
    return threads.getUtilizedThreads() > 0 || System.nanoTime() - asked.get() < JUST_NOW.toNanos();
  }

  public int port() {
    return javalin.port();
  }

  /** The address of the overview, with a slash at its end. */
  public String address() {
    String name = host.indexOf(':') < 0 ? host : "[" + host + "]";
    return "http://" + name + ":" + port() + "/";
  }

  @Override
  public void close() {
    javalin.stop();
  }
}
