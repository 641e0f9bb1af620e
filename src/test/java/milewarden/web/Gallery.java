package milewarden.web;

import java.util.List;
import milewarden.report.page.OverviewPage;

/** Sample pages, served for the eye: every page with made-up records. */
final class Gallery {
  private Gallery() {}

  static WebServer start(int port) {
    Renderer renderer = new Renderer();
    return WebServer.start(
        new WebSettings(port),
        renderer,
        List.of(
            config -> {
              config.routes.get(
                  "/",
                  http ->
                      renderer.show(
                          http,
                          "overview",
                          Frame.of("Overview", "/"),
                          OverviewPage.ofBeginning(false, 0, 0)));
            }));
  }

  public static void main(String[] args) {
    start(Integer.parseInt(args[0]));
  }
}
