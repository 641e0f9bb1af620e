package milewarden.report.page.course;

import java.util.ArrayList;
import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.report.Digits;
import milewarden.report.Words;

/** What rests on a version of a course, and what the next one would move; in sentences. */
public final class UseLines {
  private UseLines() {}

  /**
   * @param next the version that is tried
   * @param runs measured by the version in force
   * @param verdicts published ones that name the course: model and firmware
   */
  public static List<String> of(
      ReferenceCourse now,
      ReferenceCourse next,
      long runs,
      long sessions,
      List<String> verdicts,
      Digits digits) {
    List<String> lines = new ArrayList<>();
    double shift = 100 * (next.referenceM() / now.referenceM() - 1);
    lines.add(
        Math.abs(shift) < 0.0005
            ? "The reference length stays "
                + digits.groundWithin(next.referenceM(), 2 * next.standardUncertaintyM())
                + "."
            : "The reference length goes from "
                + digits.number(now.referenceM(), 2)
                + " to "
                + digits.number(next.referenceM(), 2)
                + "\u00a0m, "
                + digits.percent(shift, 3)
                + ": every error on it moves by about "
                + digits.points(-shift, 3)
                + ".");
    lines.add(
        runs == 0
            ? "No run was measured by the version in force."
            : digits.counted(runs, "run")
                + " of "
                + digits.counted(sessions, "session")
                + " would be measured anew beside the old results.");
    lines.add(
        verdicts.isEmpty()
            ? "No published verdict rests on this course."
            : "Published verdicts rest on it: "
                + Words.list(verdicts)
                + ". Where a decision or a rounded figure moves, an item becomes due; none changes"
                + " by itself.");
    return lines;
  }
}
