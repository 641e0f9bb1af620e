package milewarden.web;

import io.javalin.Javalin;
import java.util.Map;
import java.util.concurrent.atomic.AtomicReference;
import milewarden.report.ProblemPage;
import org.eclipse.jetty.server.LocalConnector;

/**
 * A server that no port leads to, asked for one page: afterwards the libraries' classes are loaded,
 * which is half of the work of a start and can be done beside the other half.
 */
public final class Rehearsal {
  private Rehearsal() {}

  /** Keeps nothing. */
  public static void run() throws Exception {
    Renderer renderer = new Renderer();
    AtomicReference<LocalConnector> door = new AtomicReference<>();
    Javalin javalin =
        Javalin.create(
            config -> {
              WebServer.configure(config);
              config.fileRenderer(renderer);
              config.jetty.addConnector(
                  (server, http) -> {
                    LocalConnector made = new LocalConnector(server);
                    door.set(made);
                    return made;
                  });
              new Guard(renderer, new WebSettings(0), Guard.Limits.DEFAULT).add(config);
              new Assets().add(config);
              config.routes.get(
                  "/",
                  http ->
                      renderer.show(
                          http, "problem", Frame.of("", ""), ProblemPage.of(404, ""), Map.of()));
            });
    javalin.start();
    try {
      LocalConnector asked = door.get();
      if (asked != null)
        asked.getResponse("GET / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
    } finally {
      javalin.stop();
    }
  }
}
