package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Every page and every form, for a reader whose browser runs no script. */
final class WithoutScriptsTest {
  private static final Set<Integer> NOT_TAKEN = Set.of(403, 404, 405, 415);
  private static final String BOUNDARY = "----a-part-of-a-form";

  // Sent to a copy of the demo: other tests read the demo itself.
  @TempDir static Path folder;
  private static final HttpClient CLIENT = HttpClient.newHttpClient();
  private static App app;
  private static String cookie;
  private static Map<String, Markup> pages;

  @BeforeAll
  static void serveACopyOfTheDemo() throws IOException {
    app = PlayedDemo.once().serveACopy(folder);
    cookie =
        new Crawl(home())
            .ask("/intake").headers().allValues("Set-Cookie").stream()
                .map(set -> set.split(";")[0])
                .collect(Collectors.joining("; "));
    pages = new TreeMap<>();
    new Crawl(home(), cookie).pages().forEach((a, html) -> pages.put(a, new Markup(html)));
  }

  @AfterAll
  static void stop() {
    app.close();
  }

  @Test
  void aFieldWithoutWordsAndAButtonOutsideOfAFormAreSeen() {
    Markup page =
        new Markup(
            "<form><input name=\"a\"><label>B <input name=\"b\"></label><label for=\"c\">C</label>"
                + "<select id=\"c\"><option value=\"1\"><option value=\"2\" selected></select>"
                + "<label> <input name=\"d\"></label></form><button>Send</button>");
    List<Markup.Field> fields = page.forms.get(0).fields();
    assertThat(fields).extracting(Markup.Field::labelled).containsExactly(false, true, true, false);
    assertThat(fields.get(2).value()).isEqualTo("2");
    assertThat(page.stray.buttons()).hasSize(1);
  }

  @Test
  void everyFieldSaysInWordsWhatItTakes() {
    Set<String> nameless = new TreeSet<>();
    pages.forEach(
        (address, page) ->
            Stream.concat(page.forms.stream(), Stream.of(page.stray))
                .flatMap(f -> f.fields().stream())
                .filter(f -> !f.labelled())
                .forEach(f -> nameless.add(Crawl.kind(address) + " " + f.element())));
    assertThat(nameless).isEmpty();
  }

  @Test
  void noFieldAndNoButtonNeedsAScript() {
    Set<String> idle = new TreeSet<>();
    pages.forEach(
        (address, page) -> {
          page.stray.fields().forEach(f -> idle.add(address + " " + f.element()));
          page.stray.buttons().forEach(b -> idle.add(address + " " + b));
          for (Markup.Form form : page.forms) {
            // What only a script can do stays hidden until one shows it.
            List<Markup.Element> sending = sending(form);
            if (sending.isEmpty()) idle.add(address + " has a form without a button to send it");
            sending.stream()
                .filter(b -> b.attribute("type").equals("button"))
                .forEach(b -> idle.add(address + " " + b));
          }
        });
    assertThat(idle).isEmpty();
  }

  @Test
  void everyLinkLeadsSomewhere() {
    Set<String> dead = new TreeSet<>();
    pages.forEach(
        (address, page) -> {
          Set<String> ids =
              page.elements.stream().map(e -> e.attribute("id")).collect(Collectors.toSet());
          for (Markup.Element element : page.elements) {
            if (element.attributes().keySet().stream().anyMatch(a -> a.startsWith("on")))
              dead.add(address + " " + element);
            if (!element.name().equals("a")) continue;
            String href = element.attribute("href");
            if (href.isEmpty() || href.startsWith("javascript:")) dead.add(address + " " + element);
            if (href.startsWith("#") && !ids.contains(href.substring(1)))
              dead.add(address + " " + element);
          }
        });
    assertThat(dead).isEmpty();
  }

  @Test
  void everyFormIsTakenAsABrowserSendsIt() throws Exception {
    Set<String> refused = new TreeSet<>();
    Set<String> kinds = new TreeSet<>();
    for (Map.Entry<String, Markup> page : pages.entrySet()) {
      for (Markup.Form form : page.getValue().forms) {
        String action = form.element().attribute("action");
        String method = form.element().attribute("method");
        for (Markup.Element button : sending(form)) {
          String kind =
              (method + " " + Crawl.kind(action) + " " + button.attribute("value")).strip();
          if (!kinds.add(kind)) continue;
          HttpResponse<String> answer = send(form, button);
          int status = answer.statusCode();
          if (NOT_TAKEN.contains(status) || status >= 500)
            refused.add(page.getKey() + ": " + kind + " answers " + status);
          else if (status >= 400 && !answer.body().contains("<main"))
            refused.add(page.getKey() + ": " + kind + " answers " + status + " without a page");
        }
      }
    }
    assertThat(refused).isEmpty();
    assertThat(kinds)
        .contains(
            "get /",
            "post /intake/files",
            "post /courses",
            "post /verdicts",
            "post /due/close",
            "post /runs/#/tags",
            "post /settings/reading",
            "post /settings/people",
            "post /courses/*/track");
  }

  /** The buttons by which a form can be sent, those with a name of their own apart. */
  private static List<Markup.Element> sending(Markup.Form form) {
    return form.buttons().stream().filter(b -> !b.has("hidden")).toList();
  }

  private static HttpResponse<String> send(Markup.Form form, Markup.Element button)
      throws IOException, InterruptedException {
    Markup.Element element = form.element();
    List<Map.Entry<String, String>> fields = new ArrayList<>();
    for (Markup.Field field : form.fields()) {
      String name = field.element().attribute("name");
      boolean unticked =
          Set.of("checkbox", "radio").contains(field.type()) && !field.element().has("checked");
      if (name.isEmpty() || unticked || field.type().equals("file")) continue;
      String value = field.value();
      // A browser sends no form that lacks what is required.
      if (value.isEmpty() && field.element().has("required"))
        value =
            field.options().stream()
                .map(o -> o.attribute("value"))
                .filter(v -> !v.isEmpty())
                .findFirst()
                .orElse("1");
      fields.add(Map.entry(name, value));
    }
    if (button.has("name"))
      fields.add(Map.entry(button.attribute("name"), button.attribute("value")));
    HttpRequest.Builder request =
        HttpRequest.newBuilder().header("Cookie", cookie).header("Accept", "text/html");
    String action = home() + element.attribute("action");
    if (!element.attribute("method").equals("post"))
      request.uri(URI.create(action + "?" + encoded(fields)));
    else if (element.attribute("enctype").equals("multipart/form-data"))
      request
          .uri(URI.create(action))
          .header("Content-Type", "multipart/form-data; boundary=" + BOUNDARY)
          .POST(BodyPublishers.ofString(parts(form, fields)));
    else
      request
          .uri(URI.create(action))
          .header("Content-Type", "application/x-www-form-urlencoded")
          .POST(BodyPublishers.ofString(encoded(fields)));
    return CLIENT.send(request.build(), BodyHandlers.ofString());
  }

  private static String encoded(List<Map.Entry<String, String>> fields) {
    return fields.stream()
        .map(f -> word(f.getKey()) + "=" + word(f.getValue()))
        .collect(Collectors.joining("&"));
  }

  private static String word(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  private static String parts(Markup.Form form, List<Map.Entry<String, String>> fields) {
    StringBuilder body = new StringBuilder();
    for (Map.Entry<String, String> field : fields)
      body.append("--" + BOUNDARY + "\r\nContent-Disposition: form-data; name=\"")
          .append(field.getKey())
          .append("\"\r\n\r\n")
          .append(field.getValue())
          .append("\r\n");
    for (Markup.Field field : form.fields())
      if (field.type().equals("file"))
        body.append("--" + BOUNDARY + "\r\nContent-Disposition: form-data; name=\"")
            .append(field.element().attribute("name"))
            .append("\"; filename=\"a.txt\"\r\nContent-Type: text/plain\r\n\r\nno recording\r\n");
    return body.append("--" + BOUNDARY + "--\r\n").toString();
  }

  private static String home() {
    return "http://127.0.0.1:" + app.port();
  }
}
