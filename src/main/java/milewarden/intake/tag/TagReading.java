package milewarden.intake.tag;

import java.util.List;
import java.util.function.Function;

/** What settled tags come to: enough to measure by, or the gaps to ask for. */
public sealed interface TagReading {
  <R> R fold(Function<Complete, R> complete, Function<Incomplete, R> incomplete);

  /** Everything needed is there. */
  public record Complete(RunTags tags) implements TagReading {
    @Override
    public <R> R fold(Function<Complete, R> c, Function<Incomplete, R> i) {
      return c.apply(this);
    }
  }

  /** At least one gap, in the order of asking. */
  public record Incomplete(List<Gap> gaps) implements TagReading {
    public Incomplete {
      gaps = List.copyOf(gaps);
    }

    @Override
    public <R> R fold(Function<Complete, R> c, Function<Incomplete, R> i) {
      return i.apply(this);
    }
  }
}
