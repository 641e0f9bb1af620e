package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import milewarden.report.page.OverviewPage;
import milewarden.web.Frame;
import milewarden.web.Renderer;
import milewarden.web.Routes;

/** The pages and their addresses. */
public final class Pages implements Routes {
  private final Renderer renderer;

  public Pages(Renderer renderer) {
    this.renderer = renderer;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/", this::overview);
  }

  private void overview(Context http) {
    renderer.show(
        http, "overview", Frame.of("Overview", "/"), OverviewPage.ofBeginning(false, 0, 0));
  }
}
