package milewarden.format.text;

import java.util.Locale;
import milewarden.format.fixes.PlainNumber;

/** Numbers and angles as people and programs write them into tables. */
final class CellNumber {
  private CellNumber() {}

  /** With a decimal point or comma; NaN where the cell is empty or no number. */
  static double of(Cells cells, int cell) {
    if (cells.isEmpty(cell)) return Double.NaN;
    double plain = PlainNumber.parse(cells.row(), cells.start(cell), cells.end(cell));
    return Double.isNaN(plain) ? withComma(cells.text(cell)) : plain;
  }

  private static double withComma(String text) {
    // One comma and no point is a decimal comma; both together may be thousands: no number here.
    int comma = text.indexOf(',');
    boolean decimal = comma >= 0 && comma == text.lastIndexOf(',') && text.indexOf('.') < 0;
    return decimal ? PlainNumber.parse(text.replace(',', '.')) : Double.NaN;
  }

  /**
   * Degrees: decimal, or degrees and minutes, or degrees, minutes and seconds, parted by blanks or
   * their signs, with a sign or with a letter before or behind. NaN where it is none of these.
   *
   * @param letters the positive and the negative side's letter: {@code "NS"} or {@code "EW"}
   * @param side a letter from a column of its own; a blank where there is none
   */
  static double degrees(Cells cells, int cell, String letters, char side) {
    double plain = of(cells, cell);
    if (Double.isNaN(plain)) plain = inParts(cells.text(cell), letters);
    if (side == ' ') return plain;
    if (plain < 0 || letters.indexOf(side) < 0) return Double.NaN;
    return side == letters.charAt(1) ? -plain : plain;
  }

  private static double inParts(String text, String letters) {
    String upper = text.strip().toUpperCase(Locale.ROOT);
    char last = upper.isEmpty() ? ' ' : upper.charAt(upper.length() - 1);
    char first = upper.isEmpty() ? ' ' : upper.charAt(0);
    boolean behind = letters.indexOf(last) >= 0;
    boolean before = letters.indexOf(first) >= 0;
    if (behind && before) return Double.NaN;
    String body = behind ? upper.substring(0, upper.length() - 1) : upper;
    if (before) body = body.substring(1);
    String[] parts = body.strip().split("[\\s\u00b0'\u2032\"\u2033:]+");
    if (parts.length == 0 || parts.length > 3) return Double.NaN;
    double value = sum(parts);
    boolean negative = parts[0].startsWith("-");
    if (!behind && !before) return negative ? -value : value;
    if (negative) return Double.NaN;
    char side = behind ? last : first;
    return side == letters.charAt(1) ? -value : value;
  }

  /** Without its sign; NaN where minutes or seconds reach 60, or are negative. */
  private static double sum(String[] parts) {
    double value = 0;
    double unit = 1;
    for (int i = 0; i < parts.length; i++) {
      double part = PlainNumber.parse(parts[i].replace(',', '.'));
      if (Double.isNaN(part)) return Double.NaN;
      if (i == 0) part = Math.abs(part);
      else if (part < 0 || part >= 60) return Double.NaN;
      value += part / unit;
      unit *= 60;
    }
    return value;
  }
}
