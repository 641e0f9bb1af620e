package milewarden.report.answer;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.UUID;

/** News as a feed (RFC 4287). */
public record AtomFeed(String title, String self, Instant updated, List<Entry> entries) {
  public AtomFeed {
    entries = List.copyOf(entries);
  }

  /**
   * One piece of news.
   *
   * @param name what its id is made of: the same for ever, and of nothing else
   * @param link absolute
   */
  public record Entry(
      String name,
      String title,
      Instant published,
      Instant updated,
      String text,
      String category,
      String link) {}

  /** The document. */
  public String xml() {
    StringBuilder out = new StringBuilder();
    out.append("<?xml version=\"1.0\" encoding=\"utf-8\"?>\n")
        .append("<feed xmlns=\"http://www.w3.org/2005/Atom\">\n");
    element(out, "id", id(self));
    element(out, "title", title);
    element(out, "updated", updated.toString());
    out.append("<author><name>Milewarden</name></author>\n<link rel=\"self\" href=\"")
        .append(escaped(self))
        .append("\"/>\n");
    for (Entry each : entries) entry(out, each);
    return out.append("</feed>\n").toString();
  }

  private static void entry(StringBuilder out, Entry entry) {
    out.append("<entry>\n");
    element(out, "id", id(entry.name()));
    element(out, "title", entry.title());
    element(out, "published", entry.published().toString());
    element(out, "updated", entry.updated().toString());
    out.append("<link rel=\"alternate\" href=\"").append(escaped(entry.link())).append("\"/>\n");
    out.append("<category term=\"").append(escaped(entry.category())).append("\"/>\n");
    out.append("<content type=\"text\">").append(escaped(entry.text())).append("</content>\n");
    out.append("</entry>\n");
  }

  private static void element(StringBuilder out, String name, String text) {
    out.append('<').append(name).append('>').append(escaped(text));
    out.append("</").append(name).append(">\n");
  }

  // RFC 4122, section 4.3: a UUID of a name stays when the server's address changes.
  private static String id(String name) {
    return "urn:uuid:" + UUID.nameUUIDFromBytes(name.getBytes(StandardCharsets.UTF_8));
  }

  /** Text as XML 1.0 takes it; characters that it can't hold are left out. */
  static String escaped(String text) {
    StringBuilder out = new StringBuilder();
    text.codePoints()
        .forEach(
            c -> {
              switch (c) {
                case '&' -> out.append("&amp;");
                case '<' -> out.append("&lt;");
                case '>' -> out.append("&gt;");
                case '"' -> out.append("&quot;");
                default -> {
                  if (isCharacter(c)) out.appendCodePoint(c);
                }
              }
            });
    return out.toString();
  }

  // XML 1.0, section 2.2, Char.
  private static boolean isCharacter(int c) {
    return c == 0x9
        || c == 0xA
        || c == 0xD
        || c >= 0x20 && c <= 0xD7FF
        || c >= 0xE000 && c <= 0xFFFD
        || c >= 0x10000;
  }
}
