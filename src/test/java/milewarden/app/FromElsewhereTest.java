package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.URI;
import java.net.http.HttpResponse;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** No page, style or script asks another host for anything, and a browser is told to forbid it. */
final class FromElsewhereTest {
  private static final String ADDRESS = "[\"'`]?\\s*(?:[a-z]+:)?//";
  // Whatever makes a browser ask: a call, an element's address, a style's, an import.
  private static final Pattern ASKS =
      Pattern.compile(
          "(?:\\b(?:fetch|EventSource|WebSocket|Worker|import|importScripts|sendBeacon|open|url)\\s*\\(\\s*"
              + "|\\b(?:src|srcset|href|action|poster|data)\\s*=\\s*"
              + "|@import\\s+|\\bfrom\\s*(?=[\"'])|\\bimport\\s*(?=[\"']))"
              + ADDRESS);
  private static final Pattern LINKED = Pattern.compile("(?:href|src)=\"(/[^\"#]*)\"");
  private static final Pattern NEEDED =
      Pattern.compile(
          "(?:\\bfrom|\\bimport|\\bWorker\\(|\\burl\\()\\s*[\"']?([./][\\w./-]+)[\"')]");
  private static final Pattern PART =
      Pattern.compile("/(assets|webjars)/.*|.*\\.(html|js|css|svg)");
  private static final Set<String> OWN = Set.of("'none'", "'self'", "'unsafe-inline'", "data:");

  /** Bodies of pages, reports, styles, scripts and pictures by address. */
  private static final Map<String, HttpResponse<String>> ANSWERS = new TreeMap<>();

  @BeforeAll
  static void collect() {
    PlayedDemo demo = PlayedDemo.once();
    try (App app = demo.serve(demo.config)) {
      Crawl crawl = new Crawl("http://127.0.0.1:" + app.port());
      for (String page : crawl.pages().keySet()) take(crawl, page);
    }
  }

  private static void take(Crawl crawl, String address) {
    if (ANSWERS.containsKey(address)) return;
    HttpResponse<String> answer = crawl.ask(address);
    assertThat(answer.statusCode()).as(address).isEqualTo(200);
    ANSWERS.put(address, answer);
    String body = answer.body();
    LINKED
        .matcher(body)
        .results()
        .map(m -> m.group(1).replace("&amp;", "&"))
        .filter(a -> PART.matcher(a).matches())
        .forEach(a -> take(crawl, a));
    if (!address.matches(".*\\.(js|css)") || address.contains(".min.")) return;
    Matcher needed = NEEDED.matcher(body);
    while (needed.find()) take(crawl, URI.create(address).resolve(needed.group(1)).toString());
  }

  @Test
  void pagesReportsStylesScriptsAndPicturesAreAllLookedAt() {
    assertThat(ANSWERS.keySet())
        .contains("/", "/assets/milewarden.css", "/assets/pages.js", "/assets/charts.js")
        .contains("/assets/live.js", "/assets/chart-base.js", "/assets/plot.umd.min.js")
        .contains("/assets/milestone.svg", "/assets/sheet.css")
        .anyMatch(a -> a.startsWith("/webjars/d3/"))
        .anyMatch(a -> a.endsWith("/report.html"));
  }

  @Test
  void nothingIsAskedOfAnotherHost() {
    Set<String> asked = new TreeSet<>();
    ANSWERS.forEach(
        (address, answer) -> {
          Matcher asks = ASKS.matcher(answer.body());
          while (asks.find()) {
            int end = Math.min(answer.body().length(), asks.end() + 60);
            asked.add(address + ": " + answer.body().substring(asks.start(), end));
          }
        });
    assertThat(asked).isEmpty();
  }

  @Test
  void whateverWouldAskAnotherHostIsSeen() {
    for (String bad :
        List.of(
            "<script src=\"https://a.example/x.js\">",
            "<img src='//a.example/x.png'>",
            "fetch(`https://a.example/`)",
            "new EventSource(\"//a.example/live\")",
            "import { a } from \"https://a.example/a.js\";",
            "import \"https://a.example/a.js\";",
            "import('https://a.example/a.js')",
            "@import 'https://a.example/a.css';",
            "background: url(https://a.example/a.png)"))
      assertThat(ASKS.matcher(bad).find()).as(bad).isTrue();
    assertThat(ASKS.matcher("fetch('/api/v1/x'); // see //there").find()).isFalse();
  }

  @Test
  void theContentPolicyForbidsIt() {
    ANSWERS.forEach(
        (address, answer) -> {
          Optional<String> policy = answer.headers().firstValue("Content-Security-Policy");
          assertThat(policy).as(address).isPresent();
          Map<String, List<String>> rules =
              Arrays.stream(policy.orElseThrow().split(";"))
                  .map(rule -> List.of(rule.strip().split("\\s+")))
                  .collect(Collectors.toMap(r -> r.get(0), r -> r.subList(1, r.size())));
          assertThat(rules.get("default-src")).as(address).containsExactly("'none'");
          // Content Security Policy Level 3, section 6.1.3: default-src covers none of these.
          assertThat(rules).as(address).containsKeys("form-action", "base-uri", "frame-ancestors");
          rules.forEach((rule, from) -> assertThat(OWN).as(address + " " + rule).containsAll(from));
          if (rules.containsKey("script-src"))
            assertThat(rules.get("script-src")).as(address).containsExactly("'self'");
        });
  }
}
