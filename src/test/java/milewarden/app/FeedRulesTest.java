package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.net.URI;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;
import org.w3c.dom.Node;

/**
 * The feed and the calendar of a played campaign against what their standards demand in so many
 * words, read without the libraries that read them elsewhere: those forgive.
 */
final class FeedRulesTest {
  private static final String ATOM = "http://www.w3.org/2005/Atom";
  // RFC 4287, section 3.3: as RFC 3339, "T" and "Z" in capitals.
  private static final Pattern DATE =
      Pattern.compile("\\d{4}-\\d\\d-\\d\\dT\\d\\d:\\d\\d:\\d\\d(\\.\\d+)?(Z|[+-]\\d\\d:\\d\\d)");
  private static App app;

  @BeforeAll
  static void serve() {
    app = PlayedDemo.once().serve(PlayedDemo.once().config);
  }

  @AfterAll
  static void stop() {
    app.close();
  }

  private static HttpResponse<String> get(String path) throws Exception {
    HttpResponse<String> answer = new Browsing(app.port()).get("/api/v1/" + path);
    assertThat(answer.statusCode()).isEqualTo(200);
    return answer;
  }

  private static List<Element> children(Element of, String name) {
    List<Element> found = new ArrayList<>();
    for (Node n = of.getFirstChild(); n != null; n = n.getNextSibling())
      if (n instanceof Element e && (name.equals("*") || e.getLocalName().equals(name)))
        found.add(e);
    return found;
  }

  private static String one(Element of, String name) {
    List<Element> found = children(of, name);
    assertThat(found).as(name).hasSize(1);
    return found.get(0).getTextContent();
  }

  private static void isAnId(String text) {
    // 4.2.6: an IRI, absolute.
    assertThat(text).isEqualTo(text.strip()).isNotEmpty();
    assertThat(URI.create(text).isAbsolute()).as(text).isTrue();
  }

  private static OffsetDateTime date(String text) {
    assertThat(text).matches(DATE);
    return OffsetDateTime.parse(text);
  }

  private static void isText(Element e) {
    // 3.1.1: plain text, or its kind is said; plain text holds no elements.
    assertThat(e.getAttribute("type")).isIn("", "text", "html", "xhtml");
    if (!e.getAttribute("type").equals("xhtml")) assertThat(children(e, "*")).isEmpty();
  }

  private static void linksAreSound(Element of) {
    Set<String> alternates = new HashSet<>();
    for (Element link : children(of, "link")) {
      // 4.2.7: an address; 4.1.1 and 4.1.2: one alternate of each type and language.
      assertThat(URI.create(link.getAttribute("href")).isAbsolute()).isTrue();
      String rel = link.getAttribute("rel");
      if (rel.isEmpty() || rel.equals("alternate"))
        assertThat(alternates.add(link.getAttribute("type") + " " + link.getAttribute("hreflang")))
            .isTrue();
    }
  }

  @Test
  void theFeedKeepsEveryMustOfRfc4287() throws Exception {
    HttpResponse<String> answer = get("feed.atom");
    DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
    factory.setNamespaceAware(true);
    factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
    Element feed =
        factory
            .newDocumentBuilder()
            .parse(new ByteArrayInputStream(answer.body().getBytes(StandardCharsets.UTF_8)))
            .getDocumentElement();
    assertThat(feed.getLocalName()).isEqualTo("feed");
    assertThat(feed.getNamespaceURI()).isEqualTo(ATOM);
    Set<String> ids = new HashSet<>();
    // 4.1.1
    String id = one(feed, "id");
    isAnId(id);
    ids.add(id);
    one(feed, "title");
    isText(children(feed, "title").get(0));
    OffsetDateTime updated = date(one(feed, "updated"));
    for (String atMostOne : List.of("generator", "icon", "logo", "rights", "subtitle"))
      assertThat(children(feed, atMostOne)).hasSizeLessThan(2);
    assertThat(children(feed, "link")).anyMatch(l -> l.getAttribute("rel").equals("self"));
    linksAreSound(feed);
    boolean signed = !children(feed, "author").isEmpty();
    for (Element author : children(feed, "author")) assertThat(one(author, "name")).isNotBlank();
    assertThat(children(feed, "entry")).hasSizeGreaterThan(5);
    for (Element entry : children(feed, "entry")) {
      // 4.1.2
      String own = one(entry, "id");
      isAnId(own);
      assertThat(ids.add(own)).as(own).isTrue();
      one(entry, "title");
      isText(children(entry, "title").get(0));
      OffsetDateTime changed = date(one(entry, "updated"));
      assertThat(changed).isBeforeOrEqualTo(updated);
      for (String atMostOne : List.of("content", "published", "rights", "source", "summary"))
        assertThat(children(entry, atMostOne)).hasSizeLessThan(2);
      for (Element published : children(entry, "published"))
        assertThat(date(published.getTextContent())).isBeforeOrEqualTo(changed);
      boolean leads =
          children(entry, "link").stream()
              .anyMatch(l -> List.of("", "alternate").contains(l.getAttribute("rel")));
      assertThat(leads || !children(entry, "content").isEmpty()).isTrue();
      children(entry, "content").forEach(FeedRulesTest::isText);
      linksAreSound(entry);
      assertThat(signed || !children(entry, "author").isEmpty()).isTrue();
      // 4.2.2.1: a category names its term.
      for (Element category : children(entry, "category"))
        assertThat(category.getAttribute("term")).isNotEmpty();
    }
  }

  @Test
  void theCalendarKeepsTheLinesAndTheNeededPropertiesOfRfc5545() throws Exception {
    String body = get("due.ics").body();
    // 3.1: lines end by CRLF and hold 75 octets at most, and a folded one goes on after a space.
    assertThat(body).endsWith("\r\n");
    assertThat(body.replace("\r\n", "")).doesNotContain("\r").doesNotContain("\n");
    for (String line : body.split("\r\n"))
      assertThat(line.getBytes(StandardCharsets.UTF_8)).hasSizeBetween(1, 75);
    String whole = body.replaceAll("\r\n[ \t]", "");
    assertThat(whole).doesNotContain("\uFFFD");
    List<String> lines = List.of(whole.split("\r\n"));
    assertThat(lines).allMatch(l -> l.matches("[A-Z-]+(;[A-Z-]+=[^:;]*)*:.*"));
    assertThat(lines.get(0)).isEqualTo("BEGIN:VCALENDAR");
    assertThat(lines.get(lines.size() - 1)).isEqualTo("END:VCALENDAR");
    // 3.6: once each, before the first component.
    assertThat(lines).containsOnlyOnce("VERSION:2.0");
    assertThat(lines.stream().filter(l -> l.startsWith("PRODID:"))).hasSize(1);
    Set<String> uids = new HashSet<>();
    int components = 0;
    for (String part : whole.split("BEGIN:(?=VTODO|VEVENT)")) {
      if (!part.startsWith("VTODO") && !part.startsWith("VEVENT")) continue;
      components++;
      List<String> of = part.lines().toList();
      // 3.6.1, 3.6.2: UID and DTSTAMP once; 3.8.7.2: DTSTAMP in UTC.
      List<String> uid = of.stream().filter(l -> l.startsWith("UID:")).toList();
      assertThat(uid).hasSize(1);
      assertThat(uids.add(uid.get(0))).isTrue();
      assertThat(of.stream().filter(l -> l.matches("DTSTAMP:\\d{8}T\\d{6}Z"))).hasSize(1);
      // 3.6.1: an event of a calendar without METHOD begins some day.
      if (part.startsWith("VEVENT"))
        assertThat(of.stream().filter(l -> l.startsWith("DTSTART"))).hasSize(1);
      // 3.3.11: in texts, what separates is escaped.
      for (String line : of)
        if (line.startsWith("SUMMARY:") || line.startsWith("DESCRIPTION:"))
          assertThat(line.substring(line.indexOf(':') + 1))
              .doesNotContainPattern("(?<!\\\\)[;,]")
              .doesNotContainPattern("\\\\[^\\\\;,nN]");
    }
    assertThat(components).isGreaterThan(2);
    // 3.8.4.7: a UID stays: asked again, the same.
    Set<String> again = new HashSet<>();
    for (String line : get("due.ics").body().replaceAll("\r\n[ \t]", "").split("\r\n"))
      if (line.startsWith("UID:")) again.add(line);
    assertThat(again).isEqualTo(uids);
  }
}
