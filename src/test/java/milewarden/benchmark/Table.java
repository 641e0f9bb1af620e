package milewarden.benchmark;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Rows of what was measured and what is wanted, as a table in Markdown. */
final class Table {
  private final List<String> rows = new ArrayList<>();
  private int missed;

  /** A figure without a goal: context. */
  void context(String what, String measured) {
    row(what, measured, "-");
  }

  /** A figure that is to be at most this. */
  void most(String what, String measured, double value, double most, String unit) {
    goal(what, measured, value <= most, "at most " + number(most) + unit);
  }

  /** A figure that is to be at least this. */
  void least(String what, String measured, double value, double least, String unit) {
    goal(what, measured, value >= least, "at least " + number(least) + unit);
  }

  private void goal(String what, String measured, boolean met, String goal) {
    if (!met) missed++;
    row(what, measured, goal + (met ? "" : ", **missed**"));
  }

  private void row(String what, String measured, String goal) {
    String row = "| " + what + " | " + measured + " | " + goal + " |";
    rows.add(row);
    System.out.println(row);
  }

  private static String number(double value) {
    return value == Math.rint(value)
        ? String.format(Locale.ROOT, "%.0f", value)
        : String.format(Locale.ROOT, "%s", value);
  }

  /** In digits that the reader can use: three. */
  static String of(double value) {
    double size = Math.abs(value);
    int decimals = size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3;
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }

  String text() {
    return "| what | measured | goal |\n|---|---|---|\n" + String.join("\n", rows) + "\n";
  }

  int missed() {
    return missed;
  }
}
