package milewarden.intake;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.course.CourseDraft;
import milewarden.course.CourseSlug;
import milewarden.course.DraftRequest;
import milewarden.course.Method;
import milewarden.format.CourseFile;
import milewarden.format.TrackFormats;
import milewarden.geodesy.Position;
import milewarden.report.CourseWords;
import milewarden.report.IssueWords;
import milewarden.store.Contents;
import milewarden.track.Track;
import milewarden.units.Length;

/**
 * Makes a first course from a recording and a measured length, as a new file in the courses'
 * folder: from there it comes into force as any other.
 */
public final class CourseDrafting {
  private static final int LONGEST_SLUG = 64;

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
   */
  public record Form(
      String name, String length, String uncertainty, Method method, String closed) {}

  /**
   * What came of it.
   *
   * @param made true where a file was written
   * @param sentence what was made, or why nothing was and what to do
   */
  public record Outcome(boolean made, String slug, String sentence) {}

  /** Never replaces a file. */
  public Outcome draft(byte[] recording, Form form) {
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
    return draft(recording, request);
  }

  private Outcome draft(byte[] recording, DraftRequest request) {
    return TrackFormats.read(new ByteArrayInputStream(recording))
        .fold(
            usable ->
                CourseDraft.from(positions(usable.track()), request)
                    .fold(
                        drafted -> write(drafted.draft().withSource(Contents.sha256(recording))),
                        failed -> refused(CourseWords.of(failed).sentence())),
            bad -> refused(IssueWords.of(bad.why()).sentence()));
  }

  private Outcome write(CourseDraft draft) {
    String slug = draft.course().slug().text();
    Path file = folder.resolve(slug + ".geojson");
    try {
      Files.createDirectories(folder);
      Files.writeString(
          file,
          CourseFile.write(draft.course()),
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
            + draft.course().name()
            + " was made as "
            + file.getFileName()
            + "; it is in force within seconds. Judge other recordings by it, not this one.");
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

  private static List<Position> positions(Track track) {
    List<Position> positions = new ArrayList<>(track.size());
    for (int i = 0; i < track.size(); i++)
      positions.add(new Position(track.latitudesDeg()[i], track.longitudesDeg()[i]));
    return positions;
  }
}
