package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.MappingIterator;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.dataformat.csv.CsvMapper;
import com.fasterxml.jackson.dataformat.csv.CsvParser;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Whatever a page shows can be had from it as JSON and CSV, read here by a general library. */
final class PageDataTest {
  private static final Pattern CELL = Pattern.compile("<t[dh][^>]*>(.*?)</t[dh]>", Pattern.DOTALL);
  private static final Pattern NUMBER = Pattern.compile("\\d+(,\\d{3})*(\\.\\d+)?");
  private static final Pattern TABLE = Pattern.compile("href=\"([^\"]*as=csv[^\"]*)\"");

  // A number of metres, or any word for kilometres.
  private static final Pattern METRIC =
      Pattern.compile(".{0,40}(\\d m\\b|\\bkm\\b|\\bmetres?\\b|kilomet|min/km|km/h).{0,40}");
  // What stood on a display stands as it was read, a finding as it was stored; the choice names
  // both.
  private static final Pattern KEPT =
      Pattern.compile("\"\\w+\" :|\"km\"|kilometres, metres, min/km");
  // A course is measured in metres, and its line is drawn in them; a field sheet takes any unit;
  // a record of changes says what was said then.
  private static final Pattern MEASURED =
      Pattern.compile(
          "/courses/[^/]+/(measure|sheet|line).*|/courses|/models/\\d+/sheet.*|/settings/changes.*");
  private static final Pattern NUMBERS =
      Pattern.compile("<td[^>]*class=\"num\"[^>]*>(.*?)</td>", Pattern.DOTALL);

  private static final Pattern STRETCH =
      Pattern.compile(">stretch</th><td[^>]*><span>\\d+ to \\d+.ft<");

  private static App app;
  private static Crawl crawl;
  private static Map<String, String> pages;

  @BeforeAll
  static void serveTheDemo() {
    PlayedDemo demo = PlayedDemo.once();
    app = demo.serve(demo.config);
    crawl = new Crawl(home());
    pages = crawl.pages();
  }

  @AfterAll
  static void stop() {
    app.close();
  }

  @Test
  void everyKindOfPageIsReachedByLinks() {
    Set<String> kinds = pages.keySet().stream().map(Crawl::kind).collect(Collectors.toSet());
    assertThat(kinds)
        .contains(
            "/",
            "/due",
            "/intake",
            "/courses",
            "/courses/*",
            "/courses/*/measure",
            "/verdicts",
            "/verdicts/#/#",
            "/verdicts/draft",
            "/alerts",
            "/settings",
            "/models/#",
            "/models/#/compare",
            "/models/#/plan",
            "/runs/#",
            "/sessions/*");
  }

  @Test
  void everyPageCanBeHadAsJsonWithTheNumbersOfItsTables() throws Exception {
    ObjectMapper json = new ObjectMapper();
    for (String page : pages.keySet()) {
      HttpResponse<String> answer = crawl.ask(asJson(page));
      assertThat(answer.statusCode()).as(page).isEqualTo(200);
      JsonNode read = json.readTree(answer.body());
      assertThat(read.size()).as(page).isPositive();
      Set<String> told = new TreeSet<>();
      collect(read, told);
      Set<String> lacking = numbers(pages.get(page));
      lacking.removeAll(told);
      // Since the pages were read a work may have ended, as the rate of false alarms does.
      if (!lacking.isEmpty()) lacking.retainAll(numbers(crawl.ask(page).body()));
      assertThat(lacking).as("numbers in cells of " + page + " that its JSON lacks").isEmpty();
    }
  }

  @Test
  void everyTableOfAPageCanBeHadAsCsvWithACellForEachName() throws Exception {
    CsvMapper csv = new CsvMapper();
    int tables = 0;
    for (Map.Entry<String, String> page : pages.entrySet()) {
      Matcher link = TABLE.matcher(page.getValue());
      while (link.find()) {
        String address = link.group(1).replace("&amp;", "&");
        HttpResponse<String> answer = crawl.ask(address);
        assertThat(answer.statusCode()).as(address).isEqualTo(200);
        List<String[]> rows = new ArrayList<>();
        try (MappingIterator<String[]> lines =
            csv.readerFor(String[].class)
                .with(CsvParser.Feature.WRAP_AS_ARRAY)
                .readValues(answer.body())) {
          lines.forEachRemaining(rows::add);
        }
        assertThat(rows).as(address).hasSizeGreaterThan(1);
        assertThat(rows).as(address).allMatch(r -> r.length == rows.get(0).length);
        assertThat(rows.get(0)).as(address).doesNotHaveDuplicates();
        tables++;
      }
    }
    assertThat(tables).isGreaterThan(50);
  }

  @Test
  void aTableThatIsNoneIsToldWithThoseThatAre() {
    HttpResponse<String> answer = crawl.ask("/models/1?as=csv&table=none");
    assertThat(answer.statusCode()).isEqualTo(404);
    assertThat(answer.headers().firstValue("content-type").orElse(""))
        .startsWith("application/problem+json");
    assertThat(answer.body()).contains("releases").contains("table=NAME");
    assertThat(crawl.ask("/models/1?as=pdf").statusCode()).isEqualTo(400);
  }

  @Test
  void aReaderOfMilesSeesNoKilometreAndNoMetre() {
    Crawl miles = new Crawl(home(), "milewarden-units=imperial; milewarden-locale=en-US");
    Set<String> found = new TreeSet<>();
    Map<String, String> all = miles.pages();
    assertThat(all.values()).anyMatch(html -> STRETCH.matcher(html).find());
    for (Map.Entry<String, String> page : all.entrySet()) {
      if (MEASURED.matcher(page.getKey()).matches()) continue;
      String told = miles.ask(asJson(page.getKey())).body();
      for (String text : List.of(words(page.getValue()), told)) {
        Matcher metric = METRIC.matcher(KEPT.matcher(text.replace('\u00a0', ' ')).replaceAll(" "));
        while (metric.find()) found.add(page.getKey() + ": " + metric.group().strip());
      }
    }
    assertThat(found).isEmpty();
  }

  @Test
  void aReaderOfDecimalCommasSeesThemInEveryColumnOfNumbers() {
    Crawl comma = new Crawl(home(), "milewarden-locale=de-DE");
    int seen = 0;
    for (Map.Entry<String, String> page : comma.pages().entrySet()) {
      Matcher cell = NUMBERS.matcher(page.getValue());
      while (cell.find()) {
        assertThat(cell.group(1))
            .as(page.getKey())
            .doesNotContainPattern("(?<![\\d.])\\d+\\.\\d{1,2}(?![\\d.])");
        if (cell.group(1).matches("(?s).*\\d,\\d.*")) seen++;
      }
    }
    assertThat(seen).isGreaterThan(50);
  }

  private static String home() {
    return "http://127.0.0.1:" + app.port();
  }

  private static String asJson(String page) {
    return page + (page.contains("?") ? "&" : "?") + "as=json";
  }

  /** What a reader sees of a page, but for what forms take in. */
  private static String words(String html) {
    return html.replaceAll(
        "(?s)<script.*?</script>|<style.*?</style>|<form.*?</form>|<[^>]*>", " ");
  }

  private static Set<String> numbers(String html) {
    Set<String> numbers = new TreeSet<>();
    Matcher cell = CELL.matcher(html);
    while (cell.find()) {
      // What is drawn and what is filled in are no words of the cell.
      String words = cell.group(1).replaceAll("(?s)<svg.*?</svg>|<select.*?</select>|<[^>]*>", " ");
      numbers.addAll(numbersIn(words.replaceAll("&#?[a-z0-9]+;", " ")));
    }
    return numbers;
  }

  private static Set<String> numbersIn(String words) {
    Set<String> numbers = new TreeSet<>();
    Matcher number = NUMBER.matcher(words);
    // Programs get days as 2026-05-05, and nothing between thousands.
    while (number.find())
      numbers.add(number.group().replace(",", "").replaceFirst("^0+(?=\\d)", ""));
    return numbers;
  }

  private static void collect(JsonNode node, Set<String> into) {
    if (node.isTextual()) into.addAll(numbersIn(node.asText()));
    if (node.isNumber()) into.add(node.asText());
    node.forEach(each -> collect(each, into));
  }
}
