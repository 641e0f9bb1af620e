package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a newcomer sees: no page is bare, and each says what to do first. */
final class EmptyStoreTest {
  private static final Pattern BARE_TABLE = Pattern.compile("<tbody>\\s*</tbody>");
  private static final Pattern BARE_LIST = Pattern.compile("<(ul|ol|dl)\\b[^>]*>\\s*</\\1>");
  private static final Pattern BEGIN =
      Pattern.compile(
          "<p class=\"(?:quiet )?begin\">(.*?)</p>|<ol class=\"steps\">(.*?)</ol>", Pattern.DOTALL);
  private static final Pattern LINK = Pattern.compile("<a href=\"([^\"]+)\"");

  @TempDir static Path folder;
  private static App app;
  private static Crawl crawl;

  @BeforeAll
  static void serveNothing() {
    app =
        new App(DemoCommand.config(folder.resolve("new"), Optional.of(0)), InstantSource.system())
            .start();
    crawl = new Crawl("http://127.0.0.1:" + app.port());
  }

  @AfterAll
  static void stop() {
    app.close();
  }

  @Test
  void everyPageOfTheNavigationSaysWhatToDoFirstAndWhere() {
    for (String page :
        List.of(
            "/",
            "/courses",
            "/intake",
            "/due",
            "/verdicts",
            "/alerts",
            "/head-to-head",
            "/settings/people",
            "/settings/mail")) {
      String html = crawl.ask(page).body();
      Matcher begin = BEGIN.matcher(html);
      assertThat(begin.find()).as(page + " says what to do first").isTrue();
      Matcher link = LINK.matcher(begin.group());
      int links = 0;
      for (; link.find(); links++) {
        String to = link.group(1);
        if (to.startsWith("#"))
          assertThat(html).as(page).contains("id=\"" + to.substring(1) + "\"");
        else assertThat(crawl.ask(to).statusCode()).as(page + " leads to " + to).isEqualTo(200);
      }
      assertThat(links).as(page + " says where").isPositive();
    }
  }

  @Test
  void noPageHasATableOrAListOfNothing() {
    Map<String, String> pages = crawl.pages();
    assertThat(pages.keySet()).contains("/due", "/settings", "/courses/-/sheet");
    Set<String> bare = new TreeSet<>();
    pages.forEach(
        (address, html) -> {
          for (Pattern pattern : List.of(BARE_TABLE, BARE_LIST)) {
            Matcher found = pattern.matcher(html);
            while (found.find())
              bare.add(
                  address + ": " + html.substring(Math.max(0, found.start() - 160), found.end()));
          }
        });
    assertThat(bare).isEmpty();
  }

  @Test
  void aStateThatNothingIsInSaysSo() {
    for (String page : List.of("/intake?state=refused", "/verdicts?state=stale"))
      assertThat(crawl.ask(page).body())
          .as(page)
          .contains("Show all")
          .doesNotContainPattern(BARE_TABLE);
    assertThat(crawl.ask("/alerts?state=failed").body())
        .as("where no message was ever written there is no state to leave")
        .contains("say who is told")
        .doesNotContain("Show all")
        .doesNotContainPattern(BARE_TABLE);
  }

  @Test
  void whatIsNotThereYetIsAPageThatLeadsBack() {
    for (String page :
        List.of("/models/1", "/models/1/compare", "/runs/1", "/sessions/S1", "/courses/pier")) {
      HttpResponse<String> answer = crawl.ask(page);
      assertThat(answer.statusCode()).as(page).isEqualTo(404);
      assertThat(answer.body()).as(page).contains("begin at the overview").contains("href=\"/\"");
    }
  }
}
