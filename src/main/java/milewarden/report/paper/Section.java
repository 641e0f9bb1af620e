package milewarden.report.paper;

import java.util.List;
import java.util.Optional;

/**
 * A part of the report.
 *
 * @param key short name, for programs and as the anchor
 * @param says sentences, in order
 * @param facts named values
 * @param table empty where there is none
 * @param intervals errors drawn with their intervals; empty where there are none
 * @param ladder steps drawn from the reference on; empty where there are none
 */
public record Section(
    String key,
    String heading,
    List<String> says,
    List<Fact> facts,
    Optional<Table> table,
    Optional<IntervalChart> intervals,
    Optional<LadderSteps> ladder) {
  public Section {
    says = List.copyOf(says);
    facts = List.copyOf(facts);
  }

  /** A value with its name; the note says what it is, and may be empty. */
  public record Fact(String name, String value, String note) {}

  /** Every row has as many cells as there are columns. */
  public record Table(List<String> columns, List<List<String>> rows) {
    public Table {
      columns = List.copyOf(columns);
      rows = rows.stream().map(List::copyOf).toList();
      for (List<String> row : rows)
        if (row.size() != columns.size()) throw new IllegalArgumentException("cells: " + row);
    }
  }

  static Section of(String key, String heading, List<String> says) {
    return new Section(
        key, heading, says, List.of(), Optional.empty(), Optional.empty(), Optional.empty());
  }

  Section facts(List<Fact> more) {
    return new Section(key, heading, says, more, table, intervals, ladder);
  }

  Section table(List<String> columns, List<List<String>> rows) {
    Optional<Table> made = Optional.of(new Table(columns, rows));
    return new Section(key, heading, says, facts, made, intervals, ladder);
  }

  Section drawing(IntervalChart chart) {
    return new Section(key, heading, says, facts, table, Optional.of(chart), ladder);
  }

  Section drawing(LadderSteps steps) {
    return new Section(key, heading, says, facts, table, intervals, Optional.of(steps));
  }
}
