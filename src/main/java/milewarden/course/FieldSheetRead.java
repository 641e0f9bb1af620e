package milewarden.course;

import java.util.List;
import java.util.function.Function;

/** What reading a field sheet of a course gave: the sheet, or every reason why not. */
public sealed interface FieldSheetRead {
  <R> R fold(Function<Usable, R> usable, Function<Refused, R> refused);

  /** A sheet that can be worked out. */
  record Usable(FieldSheet sheet) implements FieldSheetRead {
    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return u.apply(this);
    }
  }

  /** At least one issue, in the order of the sheet. */
  record Refused(List<FieldSheetIssue> issues) implements FieldSheetRead {
    public Refused {
      issues = List.copyOf(issues);
    }

    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return r.apply(this);
    }
  }
}
