package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Which courses and verdicts stand on their pages, and in which order, as the address says. */
final class ChoicesTest {
  private static final Pattern ROW = Pattern.compile("<tr><th scope=\"row\"><a [^>]*>([^<]*)</a>");
  private static final Pattern LENGTH =
      Pattern.compile("data-label=\"Length\" class=\"num\">([\\d,]+\\.\\d+)");
  private static final Pattern STATE =
      Pattern.compile("href=\"(/verdicts\\?state=[a-z-]+)\"[^>]*>([a-z ]+) (\\d+)</a>");

  private static App app;
  private static Crawl crawl;

  @BeforeAll
  static void serveTheDemo() {
    PlayedDemo demo = PlayedDemo.once();
    app = demo.serve(demo.config);
    crawl = new Crawl("http://127.0.0.1:" + app.port());
  }

  @AfterAll
  static void stop() {
    app.close();
  }

  @Test
  void coursesStandInTheOrderOfTheAddress() {
    List<String> names = found(ROW, "/courses?sort=name");
    assertThat(names).hasSizeGreaterThan(1).isSortedAccordingTo(String.CASE_INSENSITIVE_ORDER);
    List<Double> lengths =
        found(LENGTH, "/courses?sort=length").stream()
            .map(length -> Double.valueOf(length.replace(",", "")))
            .toList();
    assertThat(lengths).hasSameSizeAs(names).isSortedAccordingTo((a, b) -> Double.compare(b, a));
    assertThat(found(ROW, "/courses?sort=measured")).containsExactlyInAnyOrderElementsOf(names);
    assertThat(found(ROW, "/courses?sort=nothing%20known")).isEqualTo(names);
  }

  @Test
  void aPartOfItsNameLeavesACourseAloneAndTheRestIsCounted() {
    List<String> names = found(ROW, "/courses");
    String one = names.get(0);
    assertThat(found(ROW, "/courses?find=" + one.split(" ")[0].toUpperCase(Locale.ROOT)))
        .contains(one);
    assertThat(found(ROW, "/courses?find=zzz")).isEmpty();
    assertThat(crawl.ask("/courses?find=zzz").body())
        .contains("Not shown: " + names.size())
        .doesNotContain("<table");
  }

  @Test
  void verdictsOfOneStateStandAloneAsManyAsTheLinkSays() {
    List<String> all = found(ROW, "/verdicts");
    var states = STATE.matcher(crawl.ask("/verdicts").body()).results().toList();
    assertThat(states).hasSizeGreaterThan(1);
    int counted = 0;
    for (var state : states) {
      assertThat(found(ROW, state.group(1))).as(state.group(2)).hasSize(number(state.group(3)));
      counted += number(state.group(3));
    }
    assertThat(counted).isEqualTo(all.size());
  }

  private static int number(String digits) {
    return Integer.parseInt(digits);
  }

  private static List<String> found(Pattern what, String address) {
    return what.matcher(crawl.ask(address).body()).results().map(m -> m.group(1)).toList();
  }
}
