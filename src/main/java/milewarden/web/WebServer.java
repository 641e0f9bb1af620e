package milewarden.web;

import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.http.staticfiles.Location;
import java.util.List;
import java.util.Map;

/** The running server: pages, JSON and assets. */
public final class WebServer implements AutoCloseable {
  // Not waited for: an open browser keeps its connection and would hold up the end. Every change is
  // one transaction, so a request that is cut off has happened wholly or not at all.
  private static final long STOP_TIMEOUT_MS = 0;

  private final Javalin javalin;
  private final String host;

  private WebServer(Javalin javalin, String host) {
    this.javalin = javalin;
    this.host = host;
  }

  /** Starts at once; an occupied port is an unchecked failure that names it. */
  public static WebServer start(WebSettings settings, Renderer renderer, List<Routes> routes) {
    return start(settings, renderer, new Guard(renderer, settings, Guard.Limits.DEFAULT), routes);
  }

  static WebServer start(
      WebSettings settings, Renderer renderer, Guard guard, List<Routes> routes) {
    Javalin javalin =
        Javalin.create(
            config -> {
              configure(config);
              config.fileRenderer(renderer);
              guard.add(config);
              for (Routes each : routes) each.add(config);
            });
    // By any address it is reached from this machine by the loopback address, too.
    String host = settings.isAny() ? WebSettings.LOOPBACK : settings.address();
    return new WebServer(javalin.start(settings.address(), settings.port()), host);
  }

  private static void configure(JavalinConfig config) {
    config.startup.startupWatcherEnabled = false;
    config.startup.showJavalinBanner = false;
    config.jetty.modifyServer(server -> server.setStopTimeout(STOP_TIMEOUT_MS));
    config.staticFiles.enableWebjars();
    config.staticFiles.add(
        files -> {
          files.hostedPath = "/assets";
          files.directory = "/milewarden/assets";
          files.location = Location.CLASSPATH;
          // Asked again each time, answered by the entity tag: a new jar is seen at once.
          files.headers = Map.of("Cache-Control", "no-cache");
        });
  }

  /** Every route by method and path, as it was added. */
  public List<String> routes() {
    return javalin.unsafe.internalRouter.allHttpHandlers().stream()
        .map(r -> r.endpoint)
        .filter(e -> e.method.isHttpMethod())
        .map(e -> e.method.name() + " " + e.path)
        .toList();
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
