package milewarden.cli;

import java.util.ArrayList;
import java.util.List;

/** Rows of cells in columns: the first flush left, the others flush right, but the last. */
final class TextTable {
  private final String indent;
  private final List<List<String>> rows = new ArrayList<>();

  TextTable(int indent) {
    this.indent = " ".repeat(indent);
  }

  void row(String... cells) {
    rows.add(List.of(cells));
  }

  /** All rows, each with its line break; no blanks at the ends of lines. */
  String text() {
    List<Integer> widths = new ArrayList<>();
    for (List<String> row : rows)
      for (int i = 0; i < row.size(); i++) {
        if (i == widths.size()) widths.add(0);
        widths.set(i, Math.max(widths.get(i), row.get(i).length()));
      }
    StringBuilder text = new StringBuilder();
    for (List<String> row : rows) {
      StringBuilder line = new StringBuilder(indent);
      for (int i = 0; i < row.size(); i++) {
        if (i > 0) line.append("  ");
        String blanks = " ".repeat(widths.get(i) - row.get(i).length());
        boolean left = i == 0 || i == widths.size() - 1;
        line.append(left ? row.get(i) + blanks : blanks + row.get(i));
      }
      text.append(line.toString().stripTrailing()).append('\n');
    }
    return text.toString();
  }
}
