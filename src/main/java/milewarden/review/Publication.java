package milewarden.review;

import java.util.function.Function;
import milewarden.store.Id.VerdictId;

/** What came of publishing or withdrawing a verdict. */
public sealed interface Publication {
  <R> R fold(Function<Done, R> done, Function<Refused, R> refused);

  /**
   * It stands in the records.
   *
   * @param number of the model's verdicts, from 1
   */
  record Done(VerdictId id, int number) implements Publication {
    @Override
    public <R> R fold(Function<Done, R> d, Function<Refused, R> r) {
      return d.apply(this);
    }
  }

  /** Nothing was written, and why: a sentence that says what to do. */
  record Refused(String sentence) implements Publication {
    @Override
    public <R> R fold(Function<Done, R> d, Function<Refused, R> r) {
      return r.apply(this);
    }
  }
}
