package milewarden.benchmark.skeleton;

import gg.jte.html.HtmlInterceptor;
import gg.jte.html.HtmlTemplateOutput;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** What jte makes of {@code <!doctype html><title>Skeleton</title><p>${value}</p>}. */
public final class JtepageGenerated {
  public static final String JTE_NAME = "page.jte";
  public static final int[] JTE_LINE_INFO = {0};

  private JtepageGenerated() {}

  public static void render(
      HtmlTemplateOutput out, @Nullable HtmlInterceptor interceptor, String value) {
    out.writeContent("<!doctype html><title>Skeleton</title><p>");
    out.setContext("p", null);
    out.writeUserContent(value);
    out.writeContent("</p>");
  }

  public static void renderMap(
      HtmlTemplateOutput out, @Nullable HtmlInterceptor interceptor, Map<String, Object> params) {
    render(out, interceptor, String.valueOf(params.get("value")));
  }
}
