package milewarden.intake.course;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.text.Normalizer;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.course.CourseSlug;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.course.StandardTrack;
import milewarden.course.TrackCourse;
import milewarden.course.draft.CourseDraft;
import milewarden.course.draft.DraftRequest;
import milewarden.format.CourseFile;
import milewarden.geodesy.Position;
import milewarden.report.CourseWords;
import milewarden.units.Length;

/**
 * Makes a first course from recordings or a drawn line and a measured length, or of a standard
 * track, as a new file in the courses' folder: from there it comes into force as any other.
 */
public final class CourseDrafting {
  private static final int LONGEST_SLUG = 64;

  private static final Pattern CENTRE =
      Pattern.compile("([+-]?\\d+(?:\\.\\d+)?)\\s*[,;\\s]\\s*([+-]?\\d+(?:\\.\\d+)?)");

  private final Path folder;
  private final Runnable wakeCourses;

  /**
   * @param folder where course files are read from
   * @param wakeCourses called after a file was written
   */
  public CourseDrafting(Path folder, Runnable wakeCourses) {
    this.folder = folder;
    this.wakeCourses = wakeCourses;
  }

  /**
   * What the form says.
   *
   * @param length with its unit, as it was typed
   * @param uncertainty with its unit; empty text for the rule of the draft
   * @param closed yes or no; empty text where the recording is to tell
   * @param tolerance of the simplified line, metres; empty text for the usual one
   */
  public record Form(
      String name,
      String length,
      String uncertainty,
      Method method,
      String closed,
      String tolerance) {}

  /** A file that came with the form. */
  public record Sent(String name, byte[] bytes) {}

  /**
   * What the form of a standard track says, each as it was typed.
   *
   * @param centre latitude and longitude of the middle of the infield
   * @param start of the mark, metres along the lap from the finish line; may be empty
   */
  public record TrackForm(String name, String centre, String bearing, String lane, String start) {}

  /**
   * What came of it.
   *
   * @param made true where a file was written
   * @param sentence what was made, or why nothing was and what to do
   */
  public record Outcome(boolean made, String slug, String sentence) {}

  /** Never replaces a file. */
  public Outcome draft(List<Sent> files, Form form) {
    Optional<Length> length = Length.parse(form.length()).filter(l -> l.metres() > 0);
    if (length.isEmpty())
      return refused(
          "The length “"
              + form.length()
              + "” is not understood. Write a number and its unit: 0.25 mi, 400 m.");
    Optional<Length> uncertainty = Length.parse(form.uncertainty());
    if (!form.uncertainty().isBlank() && uncertainty.isEmpty())
      return refused(
          "The uncertainty “"
              + form.uncertainty()
              + "” is not understood. Write a number and its unit: 0.4 m; or leave it empty.");
    DraftRequest request =
        new DraftRequest(
            slug(form.name()),
            form.name().strip(),
            length.get(),
            uncertainty,
            form.method(),
            Optional.empty(),
            "",
            form.closed().isBlank() ? Optional.empty() : Optional.of(form.closed().equals("yes")));
    OptionalDouble tolerance =
        form.tolerance().isBlank()
            ? OptionalDouble.of(CourseDraft.TOLERANCE_M)
            : number(form.tolerance(), 0, 10);
    if (tolerance.isEmpty())
      return refused(
          "The tolerance “" + form.tolerance() + "” is not understood. Write metres, 0 to 10.");
    return draft(files, request, tolerance.getAsDouble());
  }

  /** A course of a standard 400 m track, which is drawn and not measured. */
  public Outcome track(TrackForm form) {
    Matcher centre = CENTRE.matcher(form.centre().strip());
    if (!centre.matches())
      return refused(
          "The middle “" + form.centre() + "” is not understood. Write 47.12345, 8.12345.");
    double latitude = Double.parseDouble(centre.group(1));
    double longitude = Double.parseDouble(centre.group(2));
    OptionalDouble bearing = number(form.bearing(), -360, 360);
    OptionalDouble lane = number(form.lane(), 1, 9);
    OptionalDouble start =
        form.start().isBlank() ? OptionalDouble.of(0) : number(form.start(), -1000, 1000);
    if (Math.abs(latitude) >= 90 || Math.abs(longitude) > 180)
      return refused("The middle lies off the globe. Write latitude first, then longitude.");
    if (bearing.isEmpty())
      return refused("Write the bearing of the home straight in degrees from north: 37.");
    if (lane.isEmpty() || lane.getAsDouble() != Math.rint(lane.getAsDouble()))
      return refused("Write the lane as a number from 1, the innermost, to 9.");
    if (start.isEmpty()) return refused("Write where the mark is in metres from the finish: 0.");
    StandardTrack track =
        new StandardTrack(
            new Position(latitude, longitude), bearing.getAsDouble(), (int) lane.getAsDouble());
    return write(
        TrackCourse.of(
            track,
            start.getAsDouble(),
            slug(form.name()),
            form.name().strip(),
            track.lapM() / 1000),
        "It is drawn, not measured: its length is that of the standard, with an uncertainty of 0.1 %"
            + " put in. Measure your own track.");
  }

  private static OptionalDouble number(String text, double least, double most) {
    // A comma is a point here: three digits after it could part thousands, and are refused.
    if (!text.strip().matches("[+-]?\\d+(\\.\\d+|,(?!\\d{3}$)\\d+)?"))
      return OptionalDouble.empty();
    double value = Double.parseDouble(text.strip().replace(',', '.'));
    return value >= least && value <= most ? OptionalDouble.of(value) : OptionalDouble.empty();
  }

  private Outcome draft(List<Sent> files, DraftRequest request, double tolerance) {
    LineSources sources = new LineSources();
    for (Sent file : files) sources.add(file.name(), file.bytes());
    if (!sources.problems().isEmpty()) return refused(String.join(" ", sources.problems()));
    return sources
        .draft(request, tolerance)
        .fold(
            drafted ->
                write(
                    sources.named(drafted.draft()).course(),
                    "Judge other recordings by it, not those that drew it."),
            failed -> refused(CourseWords.of(failed).sentence()));
  }

  private Outcome write(ReferenceCourse course, String caution) {
    String slug = course.slug().text();
    Path file = folder.resolve(slug + ".geojson");
    try {
      Files.createDirectories(folder);
      Files.writeString(
          file,
          CourseFile.write(course),
          StandardCharsets.UTF_8,
          StandardOpenOption.CREATE_NEW,
          StandardOpenOption.WRITE);
    } catch (FileAlreadyExistsException e) {
      return refused(
          "There is a file " + file.getFileName() + " in the courses' folder. Give another name.");
    } catch (IOException e) {
      return refused(
          file
              + " can't be written ("
              + e.getMessage()
              + "). Give the user who runs Milewarden the right to write there, or make room.");
    }
    wakeCourses.run();
    return new Outcome(
        true,
        slug,
        "The course "
            + course.name()
            + " was made as "
            + file.getFileName()
            + "; it is in force within seconds. "
            + caution);
  }

  private static Outcome refused(String sentence) {
    return new Outcome(false, "", sentence);
  }

  /** The name as a short name; what has no letter of the alphabet is called a course. */
  static CourseSlug slug(String name) {
    String plain = Normalizer.normalize(name, Normalizer.Form.NFD).toLowerCase(Locale.ROOT);
    String slug = plain.replaceAll("[^a-z0-9]+", "-").replaceAll("^-+|-+$", "");
    String cut =
        slug.length() > LONGEST_SLUG ? slug.substring(0, LONGEST_SLUG).replaceAll("-+$", "") : slug;
    return new CourseSlug(cut.isEmpty() ? "course" : cut);
  }
}
