package milewarden.report.paper;

import java.util.Locale;

/** Text and numbers within HTML and SVG. */
final class Markup {
  private Markup() {}

  /** Escaped for text and for attributes; control characters, which no markup may hold, go. */
  static String of(String text) {
    StringBuilder out = new StringBuilder(text.length() + 16);
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      switch (c) {
        case '&' -> out.append("&amp;");
        case '<' -> out.append("&lt;");
        case '>' -> out.append("&gt;");
        case '"' -> out.append("&quot;");
        case '\n' -> out.append('\n');
        default -> out.append(c < 0x20 || c == 0x7f ? ' ' : c);
      }
    }
    return out.toString();
  }

  /** A coordinate, to a tenth. */
  static String at(double x) {
    return String.format(Locale.ROOT, "%.1f", x);
  }
}
