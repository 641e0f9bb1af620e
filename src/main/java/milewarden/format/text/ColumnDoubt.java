package milewarden.format.text;

import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.track.Issue;

/**
 * What a table leaves open, and what can be answered.
 *
 * @param subject {@code column 5, “Distance”}, or its dates
 * @param answers each of the form that {@link ColumnAnswers} reads
 */
public record ColumnDoubt(String subject, List<String> answers) {
  private static final Pattern SUBJECT = Pattern.compile("column (\\d+), “(.*)”");

  public ColumnDoubt {
    answers = List.copyOf(answers);
  }

  static String subject(int index, String heading) {
    String shown = heading.length() > 40 ? heading.substring(0, 40) : heading;
    return "column " + (index + 1) + ", “" + shown + "”";
  }

  /** The doubts among the issues of a reading; empty where there is none. */
  public static List<ColumnDoubt> among(List<Issue> issues) {
    return issues.stream().flatMap(i -> of(i).stream()).toList();
  }

  /** The doubt that an issue tells of. */
  public static Optional<ColumnDoubt> of(Issue issue) {
    return switch (issue.kind()) {
      case COLUMN_DOUBTFUL, COLUMNS_UNCLEAR -> ofColumn(issue.detail());
      case DATE_AMBIGUOUS ->
          Optional.of(
              new ColumnDoubt("its dates", List.of("dates=day-first", "dates=month-first")));
      default -> Optional.empty();
    };
  }

  private static Optional<ColumnDoubt> ofColumn(String detail) {
    Matcher m = SUBJECT.matcher(detail);
    if (!m.matches()) return Optional.empty();
    Stream<String> answers = Columns.answers(m.group(2)).stream();
    return Optional.of(new ColumnDoubt(detail, answers.map(a -> m.group(1) + "=" + a).toList()));
  }
}
