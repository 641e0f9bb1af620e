package milewarden.format;

import java.util.Locale;
import java.util.Optional;
import milewarden.format.fixes.FileHead;
import milewarden.format.pack.Gzip;
import milewarden.format.pack.Zip;

/** What a file is that no reader takes, as far as its first bytes tell. */
final class UnknownContent {
  private static final int LONGEST = 60;

  private UnknownContent() {}

  /** A page that a site sent instead of the recording that was asked for. */
  static boolean isWebPage(FileHead head) {
    String text = head.text().stripLeading().toLowerCase(Locale.ROOT);
    return text.startsWith("<!doctype html") || text.startsWith("<html");
  }

  /** For people, as the reason why it is no recording. */
  static String of(FileHead head) {
    if (isWebPage(head)) return "it is a web page, perhaps one that asks to log in";
    if (Gzip.recognises(head.bytes()) || Zip.recognises(head.bytes()))
      return "it is packed once more: unpack it, and put in what comes out";
    return table(head)
        .map(t -> "a table whose headings name no latitude and longitude: \"" + t + "\"")
        .orElseGet(() -> "begins with \"" + head.shown() + "\"");
  }

  /** The first line where it has the cells of a table. */
  private static Optional<String> table(FileHead head) {
    String line = head.text().lines().findFirst().orElse("").strip();
    boolean text = line.chars().noneMatch(c -> c < ' ' && c != '\t' || c == 0xFFFD);
    boolean cells = line.split("[;\t]", -1).length > 2 || line.split(",", -1).length > 2;
    boolean plain = text && cells && !line.startsWith("{") && !line.startsWith("$");
    if (!plain) return Optional.empty();
    return Optional.of(line.length() <= LONGEST ? line : line.substring(0, LONGEST).strip() + "…");
  }
}
