package milewarden.format;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.course.CourseIssue;
import milewarden.course.CourseNotice;
import milewarden.course.LengthBudget;
import milewarden.course.ReferenceCourse;
import milewarden.course.ReferenceCourse.HeightPoint;
import milewarden.format.measured.FieldSheetFile;
import milewarden.format.measured.SheetLines;

/**
 * Holds what a course file says against itself: its line against the measured length, its ends, its
 * height profile against both, and the readings of its field sheet.
 */
final class CourseCheck {
  /** Above this the line was drawn over another path than was measured: ENGINE rule, our own. */
  private static final double REFUSED_DEVIATION = 0.005;

  /** Above this the course page warns: our own. */
  private static final double NOTED_DEVIATION = 0.001;

  private final ReferenceCourse course;
  private final List<CourseIssue> issues;
  private final List<CourseNotice> notices;

  CourseCheck(ReferenceCourse course, List<CourseIssue> issues, List<CourseNotice> notices) {
    this.course = course;
    this.issues = issues;
    this.notices = notices;
  }

  /** Adds what is wrong, and what is only worth a notice. */
  void all() {
    double opening = CourseGeometry.openingM(course.line());
    boolean joined = course.line().positions().get(0).equals(last(course.line().positions()));
    if (course.closed() && !joined)
      refuse(
          CourseIssue.Kind.NOT_CLOSED,
          "the line ends " + metres(opening) + " from where it starts");
    profile();
    course.fieldSheet().ifPresent(this::sheet);
    course
        .safetyFactor()
        .ifPresent(f -> notices.add(new CourseNotice(CourseNotice.Kind.SAFETY_FACTOR, f + "")));
    double drawn = course.ellipsoidLengthM() * course.groundFactor();
    double off = Math.abs(course.horizontalM() / drawn - 1);
    if (!(off > NOTED_DEVIATION)) return;
    String detail =
        String.format(
            Locale.ROOT,
            "the line is %s long on the ground, the measured length is %s level: %.2f %% apart",
            metres(drawn),
            metres(course.horizontalM()),
            100 * off);
    if (off > REFUSED_DEVIATION) refuse(CourseIssue.Kind.LINE_DISAGREES, detail);
    else notices.add(new CourseNotice(CourseNotice.Kind.LINE_OFF, detail));
  }

  /** Where the file holds the readings, they have to give its length. */
  private void sheet(String json) {
    SheetLines.read(FieldSheetFile.lines(json), false)
        .fold(
            ok -> {
              double length = LengthBudget.of(ok.sheet()).lengthM();
              // Stated lengths are rounded to the centimetre, or to five digits.
              double rounding = Math.max(0.01, 1e-5 * length);
              return Math.abs(length - course.measuredLengthM()) <= rounding
                  ? Optional.<CourseNotice>empty()
                  : Optional.of(
                      new CourseNotice(
                          CourseNotice.Kind.SHEET_DISAGREES,
                          metres(length) + " against " + metres(course.measuredLengthM())));
            },
            bad ->
                Optional.of(
                    new CourseNotice(
                        CourseNotice.Kind.SHEET_NOT_UNDERSTOOD,
                        bad.issues().get(0).place() + " " + bad.issues().get(0).detail())))
        .ifPresent(notices::add);
  }

  private void profile() {
    List<HeightPoint> profile = course.heightProfile();
    if (profile.isEmpty()) return;
    double from = profile.get(0).chainageM();
    double to = last(profile).chainageM();
    double end = course.referenceM();
    if (from < 0 || to > end * 1.001)
      refuse(
          CourseIssue.Kind.BAD_PROFILE,
          "from " + metres(from) + " to " + metres(to) + ", the course ends at " + metres(end));
    else if (from > end * 0.01 || to < end * 0.99)
      notices.add(
          new CourseNotice(CourseNotice.Kind.PROFILE_SHORT, metres(from) + " to " + metres(to)));
  }

  private void refuse(CourseIssue.Kind kind, String detail) {
    issues.add(new CourseIssue(kind, Optional.empty(), detail));
  }

  private static <T> T last(List<T> list) {
    return list.get(list.size() - 1);
  }

  static String metres(double m) {
    return String.format(Locale.ROOT, "%.2f m", m);
  }
}
