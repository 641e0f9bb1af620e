package milewarden.web.desk;

import java.util.List;
import java.util.function.Supplier;
import milewarden.intake.TagForm;
import milewarden.intake.course.CourseDrafting;
import milewarden.intake.course.CourseEditing;
import milewarden.intake.drop.Upload;
import milewarden.report.Digits;
import milewarden.report.page.Fact;
import milewarden.review.Publishing;
import milewarden.review.Trials;
import milewarden.store.Database;
import milewarden.verdict.Policy;
import milewarden.web.Reading;
import milewarden.web.Renderer;

/**
 * What the pages work with.
 *
 * @param reading how pages are read
 * @param engineVersion of the results that are shown
 * @param inbox path of the inbox, for people
 * @param courses path of the courses' folder, for people
 * @param troubles what the inbox can't take now, in sentences
 * @param mail who is told and how
 * @param about what the settings page says of this installation
 */
public record Desk(
    Renderer renderer,
    Database database,
    Policy policy,
    Reading reading,
    String engineVersion,
    String inbox,
    String courses,
    Upload upload,
    TagForm tags,
    Publishing publishing,
    Trials trials,
    PolicyText policyFile,
    CourseDrafting drafting,
    CourseEditing editing,
    Supplier<List<String>> troubles,
    MailDesk mail,
    List<Fact> about) {
  /** Reads the text of a policy file. */
  @FunctionalInterface
  public interface PolicyText {
    /** The policy; {@code problems} takes what is wrong with the text, in sentences. */
    Policy read(String text, List<String> problems);
  }

  /** Digits for the reader of the request under way. */
  public Digits digits() {
    return reading.digits();
  }
}
