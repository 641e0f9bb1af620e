package milewarden.report.paper;

import java.util.ArrayList;
import java.util.List;

/**
 * A drawing of the report is there twice, for a sheet and for a telephone, and the styles show the
 * one that fits: words that shrink with a drawing can't be read.
 *
 * @param kind the class in the markup
 * @param width in px
 * @param most letters of a line of words
 */
record DrawingSize(String kind, double width, int most) {
  static final DrawingSize WIDE = new DrawingSize("wide", 680, 68);
  static final DrawingSize NARROW = new DrawingSize("narrow", 328, 44);

  boolean narrow() {
    return this == NARROW;
  }

  String open(double height, String label) {
    return "<svg class=\""
        + kind
        + "\" role=\"img\" viewBox=\"0 0 "
        + Markup.at(width)
        + " "
        + Markup.at(height)
        + "\" aria-label=\""
        + Markup.of(label)
        + "\">\n";
  }

  /** Words in lines that fit; a word that is longer than a line has one to itself. */
  List<String> lines(String words) {
    List<String> lines = new ArrayList<>();
    for (String word : words.split(" ")) {
      int last = lines.size() - 1;
      if (last >= 0 && lines.get(last).length() + 1 + word.length() <= most)
        lines.set(last, lines.get(last) + " " + word);
      else lines.add(word);
    }
    return lines;
  }
}
