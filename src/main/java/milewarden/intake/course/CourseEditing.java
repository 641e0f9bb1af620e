package milewarden.intake.course;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.InstantSource;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.course.CourseChange;
import milewarden.course.FieldSheet;
import milewarden.course.LengthBudget;
import milewarden.course.Mark;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.format.measured.FieldSheetFile;
import milewarden.format.measured.SheetLine;
import milewarden.format.measured.SheetLines;
import milewarden.geodesy.Polyline;
import milewarden.report.CourseWords;
import milewarden.report.MeasuredWords;
import milewarden.report.page.course.MeasureForm;
import milewarden.store.file.Contents;
import milewarden.store.run.Courses;

/**
 * Makes the next version of a course from a field sheet or a drawn line. A trial writes nothing;
 * what is kept goes into the courses' folder as a whole file or not at all, and comes into force
 * from there as any other.
 */
public final class CourseEditing {
  private final Path folder;
  private final InstantSource clock;
  private final ZoneId zone;
  private final Runnable wakeCourses;

  /**
   * @param folder where course files are read from
   * @param wakeCourses called after a file was written
   */
  public CourseEditing(Path folder, InstantSource clock, ZoneId zone, Runnable wakeCourses) {
    this.folder = folder;
    this.clock = clock;
    this.zone = zone;
    this.wakeCourses = wakeCourses;
  }

  /** What came of keeping a version, in a sentence. */
  public record Kept(boolean written, String sentence) {}

  /** A sheet worked out, for no course yet. */
  public Attempt workOut(MeasureForm form) {
    return workOut(SheetForms.lines(form));
  }

  private static Attempt workOut(List<SheetLine> lines) {
    return SheetLines.read(lines, false)
        .fold(
            ok ->
                new Attempt(
                    Optional.empty(),
                    Optional.of(LengthBudget.of(ok.sheet())),
                    List.of(),
                    List.of()),
            bad ->
                Attempt.refused(
                    bad.issues().stream().map(i -> MeasuredWords.of(i).sentence()).toList()));
  }

  /** The budget of the readings that lie in a course file, if any. */
  public static Optional<LengthBudget> budgetOf(ReferenceCourse course) {
    return course
        .fieldSheet()
        .map(json -> workOut(FieldSheetFile.lines(json)))
        .flatMap(Attempt::budget);
  }

  /** The course with the length of this sheet. */
  public Attempt measure(ReferenceCourse base, MeasureForm form) {
    List<SheetLine> lines = SheetForms.lines(form);
    return SheetLines.read(lines, false)
        .fold(
            ok -> measured(base, ok.sheet(), lines),
            bad ->
                Attempt.refused(
                    bad.issues().stream().map(i -> MeasuredWords.of(i).sentence()).toList()));
  }

  private static Attempt measured(ReferenceCourse base, FieldSheet sheet, List<SheetLine> lines) {
    LengthBudget budget = LengthBudget.of(sheet);
    ReferenceCourse next =
        base.measured(
            budget,
            sheet.readings().method(),
            sheet.measuredOn(),
            sheet.measuredBy(),
            FieldSheetFile.json(lines));
    Attempt checked = checked(withEnds(next, base));
    return new Attempt(checked.next(), Optional.of(budget), checked.problems(), checked.notices());
  }

  /** The finish of an open course lies at its new length. */
  private static ReferenceCourse withEnds(ReferenceCourse next, ReferenceCourse base) {
    List<Mark> marks = new ArrayList<>();
    for (Mark m : base.marks()) {
      boolean end =
          m.role() == Mark.Role.FINISH
              && m.chainageM().isPresent()
              && Math.abs(m.chainageM().getAsDouble() - base.measuredLengthM()) < 0.005;
      marks.add(
          end
              ? new Mark(
                  m.role(),
                  m.position(),
                  java.util.OptionalDouble.of(next.measuredLengthM()),
                  m.name())
              : m);
    }
    return next.drawn(next.line(), marks);
  }

  /**
   * The course with another line.
   *
   * @param vertices one a line, as {@link LineText} reads them
   * @param marks one a line
   */
  public Attempt draw(ReferenceCourse base, String vertices, String marks) {
    LineText text = LineText.of(base, vertices, marks);
    if (!text.problems().isEmpty()) return Attempt.refused(text.problems());
    return checked(base.drawn(new Polyline(text.positions()), text.marks()));
  }

  /** What is handed out is read again by the very checks that the folder makes. */
  private static Attempt checked(ReferenceCourse next) {
    return CourseFile.read(CourseFile.write(next).getBytes(StandardCharsets.UTF_8))
        .fold(
            ok ->
                new Attempt(
                    Optional.of(ok.course()),
                    Optional.empty(),
                    List.of(),
                    ok.notices().stream().map(n -> CourseWords.of(n).sentence()).toList()),
            bad ->
                Attempt.refused(
                    bad.issues().stream().map(i -> CourseWords.of(i).sentence()).toList()));
  }

  /**
   * Writes a version over the file that it came from.
   *
   * @param base the version that was changed; where the file is another one by now nothing is
   *     written
   */
  public Kept keep(Courses.Known base, ReferenceCourse next, String author, String reason) {
    if (reason.isBlank())
      return new Kept(false, "Say why this version is made: one line that others will read.");
    Path file = folder.resolve(base.fileName()).normalize();
    if (!file.startsWith(folder.normalize()))
      return new Kept(false, base.fileName() + " lies outside of the courses' folder.");
    LocalDate today = LocalDate.ofInstant(clock.instant(), zone);
    String text =
        CourseFile.write(next.changed(new CourseChange(author.strip(), reason.strip(), today)));
    try {
      if (!Contents.sha256(Files.readAllBytes(file)).equals(base.course().version()))
        return new Kept(
            false,
            base.fileName()
                + " was changed in the folder meanwhile. Look at the course again and repeat the"
                + " change there.");
      WholeFile.replace(file, text.getBytes(StandardCharsets.UTF_8));
    } catch (NoSuchFileException e) {
      return new Kept(
          false, base.fileName() + " is no longer in the courses' folder. Put it back first.");
    } catch (IOException e) {
      return new Kept(false, WholeFile.sentence(file, e));
    }
    wakeCourses.run();
    return new Kept(
        true,
        String.format(
            Locale.ROOT,
            "The next version of %s was written as %s; it is in force within seconds, and its runs"
                + " are measured anew beside the old results.",
            next.name(),
            base.fileName()));
  }
}
