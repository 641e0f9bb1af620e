package milewarden.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import milewarden.course.CourseIssue;
import milewarden.course.CourseRead;
import milewarden.format.CourseFile;
import milewarden.report.CourseWords;

/** A file named on the command line, read whole. */
final class CourseArgument {
  private CourseArgument() {}

  /**
   * The bytes of a file.
   *
   * @throws UncheckedIOException with a sentence that names the file
   */
  static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new UncheckedIOException(unreadable(file, e), e);
    }
  }

  static String unreadable(Path file, IOException e) {
    if (e instanceof NoSuchFileException) return file + ": there is no such file; check the path";
    if (Files.isDirectory(file)) return file + ": this is a folder; name its files";
    return file + ": cannot be read (" + e.getMessage() + "); check its permissions";
  }

  static CourseRead read(Path file) {
    return CourseFile.read(bytes(file));
  }

  /** One line for each issue: file, place, what, what to do. */
  static List<String> lines(Path file, List<CourseIssue> issues) {
    return issues.stream().map(i -> file + ": " + CourseWords.of(i).sentence()).toList();
  }
}
