package milewarden.track;

import java.util.List;
import java.util.function.Function;

/** What reading a field sheet gave: its rows and problems, or why it is no sheet. */
public sealed interface SheetRead {
  <R> R fold(Function<Usable, R> usable, Function<Refused, R> refused);

  /**
   * Rows in the order of the sheet, and what was wrong with some.
   *
   * @param unknownColumns headings that are no tag, in order
   */
  record Usable(List<SheetRow> rows, List<SheetProblem> problems, List<String> unknownColumns)
      implements SheetRead {
    public Usable {
      rows = List.copyOf(rows);
      problems = List.copyOf(problems);
      unknownColumns = List.copyOf(unknownColumns);
    }

    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return u.apply(this);
    }
  }

  /** Not a field sheet. */
  record Refused(SheetProblem why) implements SheetRead {
    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return r.apply(this);
    }
  }
}
