package milewarden.report.page.course;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import milewarden.course.ReferenceCourse;
import milewarden.geodesy.Position;
import milewarden.report.Digits;
import milewarden.report.Words;

/** The versions of a course and what changed from one to the next. */
public final class VersionRows {
  private static final int SHORT_HASH = 12;

  private VersionRows() {}

  /**
   * A version.
   *
   * @param why who changed it, when, and why, as its file says; else that it doesn't
   * @param changes against the version before
   */
  public record Row(
      String hash, String since, String length, String why, String changes, boolean inForce) {}

  /**
   * One row each.
   *
   * @param since when each came into force, in the same order
   * @param newestFirst versions, the newest first
   */
  public static List<Row> of(
      List<ReferenceCourse> newestFirst, List<String> since, List<Boolean> inForce, Digits digits) {
    List<Row> rows = new ArrayList<>();
    for (int i = 0; i < newestFirst.size(); i++) {
      ReferenceCourse c = newestFirst.get(i);
      boolean first = i == newestFirst.size() - 1;
      rows.add(
          new Row(
              c.version().substring(0, Math.min(SHORT_HASH, c.version().length())),
              since.get(i),
              digits.groundWithin(c.referenceM(), 2 * c.standardUncertaintyM()),
              why(c, digits),
              first ? "first version" : changes(newestFirst.get(i + 1), c, digits),
              inForce.get(i)));
    }
    return rows;
  }

  private static String why(ReferenceCourse c, Digits digits) {
    return c.change()
        .map(
            change ->
                change.reason()
                    + " ("
                    + (change.author().isBlank() ? "no name" : change.author())
                    + ", "
                    + digits.date(change.on())
                    + ")")
        .orElse("the file doesn't say why");
  }

  private static String changes(ReferenceCourse before, ReferenceCourse after, Digits digits) {
    List<String> words = new ArrayList<>();
    double shift = after.referenceM() - before.referenceM();
    if (Math.abs(shift) >= 0.0005)
      words.add(
          "reference "
              + digits.signed(shift, 3)
              + "\u00a0m, "
              + digits.percent(100 * shift / before.referenceM(), 3));
    if (after.standardUncertaintyM() != before.standardUncertaintyM())
      words.add("uncertainty now " + digits.number(after.standardUncertaintyM(), 3) + "\u00a0m");
    if (after.method() != before.method()) words.add("measured by " + Words.of(after.method()));
    if (!after.line().equals(before.line())) words.add(line(before, after, digits));
    if (!after.marks().equals(before.marks())) words.add("marks");
    if (!after.heightProfile().equals(before.heightProfile())
        || !after.meanHeightM().equals(before.meanHeightM())) words.add("heights");
    return words.isEmpty() ? "words only" : Words.list(words);
  }

  private static String line(ReferenceCourse before, ReferenceCourse after, Digits digits) {
    Set<Position> old = new HashSet<>(before.line().positions());
    long moved = after.line().positions().stream().distinct().filter(p -> !old.contains(p)).count();
    return digits.counted(moved, "vertex").replace("vertexs", "vertices")
        + " of the line new or moved, the line up to "
        + digits.ground(before.line().apartM(after.line()))
        + " from the old one, drawn length "
        + digits.change(after.ellipsoidLengthM() - before.ellipsoidLengthM());
  }
}
