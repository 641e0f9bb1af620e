package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import java.util.function.Supplier;
import milewarden.report.page.DemoPage;
import milewarden.web.Frame;
import milewarden.web.Renderer;
import milewarden.web.Routes;

/** The page {@code /demo}, where the invented campaign is served. */
public final class DemoRoutes implements Routes {
  private final Renderer renderer;
  private final Supplier<DemoPage> page;

  public DemoRoutes(Renderer renderer, Supplier<DemoPage> page) {
    this.renderer = renderer;
    this.page = page;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(
        "/demo", http -> renderer.show(http, "demo", Frame.of("Demo", "/demo"), page.get()));
  }
}
