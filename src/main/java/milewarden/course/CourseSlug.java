package milewarden.course;

import java.util.regex.Pattern;

/**
 * The short name of a course in files and addresses: lower case letters, digits and dashes, 1 to
 * 64.
 */
public record CourseSlug(String text) {
  private static final Pattern ALLOWED = Pattern.compile("[a-z0-9](?:[a-z0-9-]{0,62}[a-z0-9])?");

  public CourseSlug {
    if (!isValid(text)) throw new IllegalArgumentException("slug: " + text);
  }

  public static boolean isValid(String text) {
    return ALLOWED.matcher(text).matches();
  }

  @Override
  public String toString() {
    return text;
  }
}
