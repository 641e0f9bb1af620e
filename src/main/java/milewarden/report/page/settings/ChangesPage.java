package milewarden.report.page.settings;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Who changed what?
 *
 * @param older where the page before is; empty at the end
 */
public record ChangesPage(List<Line> lines, String older) {
  // Enough to tell two versions apart: as the pages of courses and verdicts write them.
  private static final int SHORT = 12;

  public ChangesPage {
    lines = List.copyOf(lines);
  }

  /** One change. */
  public record Line(String when, String who, String what, String subject, String words) {
    private static final Pattern LITERAL = Pattern.compile("\\b([0-9a-f]{64})\\b|`([^`]*)`");

    /** The words, cut where a checksum or a value stands among them. */
    public List<Piece> pieces() {
      List<Piece> pieces = new ArrayList<>();
      Matcher found = LITERAL.matcher(words);
      int from = 0;
      while (found.find()) {
        pieces.add(new Piece(words.substring(from, found.start()), "", false));
        String checksum = found.group(1);
        pieces.add(
            checksum == null
                ? new Piece(found.group(2), "", true)
                : new Piece(checksum.substring(0, SHORT), checksum.substring(SHORT), true));
        from = found.end();
      }
      pieces.add(new Piece(words.substring(from), "", false));
      return pieces;
    }
  }

  /**
   * A piece of a sentence.
   *
   * @param rest of a checksum that is shown by its first digits; empty text otherwise
   * @param literal true for a checksum or a value, which is no word of ours
   */
  public record Piece(String text, String rest, boolean literal) {}
}
