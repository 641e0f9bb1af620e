package milewarden.report.page.run;

import java.util.List;
import java.util.Optional;
import milewarden.report.page.Option;

/**
 * What is known of a run beside its measurement.
 *
 * @param id of the run
 * @param pass number of the pass shown, from 1
 * @param when day and time
 * @param original name of the file in the inbox; empty for a row without a file
 * @param tags what it is said to be, with where each came from
 * @param excluded why it does not count; empty where it does
 * @param positions its positions against reference tracks that were carried along
 * @param problems what could not be taken of an edit that was just sent
 */
public record RunFacts(
    long id,
    int pass,
    String model,
    String modelLink,
    String unit,
    String firmware,
    String course,
    String courseLink,
    String session,
    String sessionLink,
    String when,
    Optional<String> original,
    String originalLink,
    List<TagGroup> tags,
    Optional<String> excluded,
    List<PositionsPart> positions,
    List<String> problems) {
  public RunFacts {
    tags = List.copyOf(tags);
    positions = List.copyOf(positions);
    problems = List.copyOf(problems);
  }

  /** Tags of one matter. */
  public record TagGroup(String title, List<Tag> tags) {
    public TagGroup {
      tags = List.copyOf(tags);
    }
  }

  /**
   * A tag with its source.
   *
   * @param options what may be chosen; empty where it is in the tester's own words
   */
  public record Tag(String name, String label, String value, String source, List<Option> options) {
    public Tag {
      options = List.copyOf(options);
    }
  }
}
