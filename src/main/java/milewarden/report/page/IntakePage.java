package milewarden.report.page;

import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.Status;

/**
 * Did my files arrive?
 *
 * @param inbox the folder's path as the server sees it
 * @param progress of the files that are being measured
 * @param counts how many files are in each state, and which of them are shown last
 * @param waiting groups of files that lack the same tags: one form each
 * @param troubles what the inbox can't take now, in sentences
 * @param problems what could not be taken of the form that was just sent
 * @param done an answer to the form that was just sent; empty text where none
 */
public record IntakePage(
    String sentence,
    Optional<Progress> progress,
    String inbox,
    List<PageLink> counts,
    List<Group> waiting,
    List<FileRow> refused,
    List<FileRow> latest,
    List<Field> uploadFields,
    List<String> troubles,
    String done,
    List<String> problems) {
  public IntakePage {
    counts = List.copyOf(counts);
    waiting = List.copyOf(waiting);
    refused = List.copyOf(refused);
    latest = List.copyOf(latest);
    uploadFields = List.copyOf(uploadFields);
    troubles = List.copyOf(troubles);
    problems = List.copyOf(problems);
  }

  /** True where no file ever came. */
  public boolean untouched() {
    return counts.isEmpty() && waiting.isEmpty() && refused.isEmpty() && latest.isEmpty();
  }

  /** The answer, from the counts of files. */
  public static String sentence(int waiting, int offCourse, int received, int refused, int all) {
    if (all == 0) return "No file came yet.";
    String lost =
        refused == 0
            ? ""
            : refused == 1
                ? "; one was refused, and kept"
                : "; " + refused + " were refused, and kept";
    String state =
        waiting + offCourse > 0
            ? waits(waiting, offCourse)
            : received > 0 ? "Files are being measured" : "Every file arrived; none waits";
    return state + lost + ".";
  }

  private static String waits(int waiting, int offCourse) {
    String tags = waiting == 1 ? "One file waits for a tag" : waiting + " files wait for a tag";
    if (offCourse == 0) return tags;
    if (waiting > 0)
      return tags + ", " + (offCourse == 1 ? "one" : String.valueOf(offCourse)) + " for a course";
    return offCourse == 1 ? "One file waits for a course" : offCourse + " files wait for a course";
  }

  /** Of recordings that fit no course: where their files lie until one does. */
  public static String meanwhile() {
    return "Until a course fits, they are kept: in the folder refused, or in done where a tag was asked for"
        + " before.";
  }

  /** How far a batch is: {@code done} of {@code of} files, and the same in words. */
  public record Progress(int done, int of, String words) {
    /** Empty where nothing is under way. */
    public static Optional<Progress> of(int done, int of, Digits digits) {
      if (of == 0) return Optional.empty();
      String words = "Measuring: " + digits.count(done) + " of " + digits.counted(of, "file");
      return Optional.of(new Progress(done, of, words + " done."));
    }
  }

  /**
   * Files that lack the same tags.
   *
   * @param key distinguishes the forms of a page
   * @param why what is said of all of them; empty text where each has a reason of its own
   * @param meanwhile where the files lie; empty text where they wait for an answer alone
   */
  public record Group(
      String key,
      String asks,
      String why,
      String meanwhile,
      List<FileRow> files,
      List<Field> fields) {
    public Group {
      files = List.copyOf(files);
      fields = List.copyOf(fields);
    }
  }

  /**
   * A file, with what is known of it.
   *
   * @param others what its tags say otherwise than those of the file that came before with the same
   *     bytes; empty text where nothing
   */
  public record FileRow(
      long id, String path, String when, Status state, String why, String link, String others) {}

  /**
   * A field of a form: a choice where there are options, else a text with proposals.
   *
   * @param options codes and words; empty for a text
   * @param known proposals for a text
   */
  public record Field(
      String name,
      String label,
      String hint,
      boolean required,
      List<Option> options,
      List<String> known) {
    public Field {
      options = List.copyOf(options);
      known = List.copyOf(known);
    }
  }
}
