package milewarden.review;

import java.util.List;
import milewarden.accuracy.Engine;
import milewarden.store.Id.ModelId;
import milewarden.store.PlaceRows;
import milewarden.store.Tx;
import milewarden.verdict.Comparison;
import milewarden.verdict.Policy;
import milewarden.verdict.place.Origin;

/** Where the difference of two releases comes from, from the stored passes; for who asks. */
public final class Origins {
  private Origins() {}

  /** One per course that both were run on; all their sessions, also those after the last look. */
  public static List<Origin> of(Tx tx, ModelId model, Comparison c, Policy policy) {
    return Origin.of(
        PlaceRows.of(tx, model, c.candidate(), c.baseline(), Engine.VERSION),
        c.candidate(),
        c.baseline(),
        // Half of what matters is worth a word, not a verdict.
        policy.materialChangePercent() / 2);
  }
}
