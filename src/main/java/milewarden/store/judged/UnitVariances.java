package milewarden.store.judged;

import java.util.List;
import java.util.Optional;
import milewarden.store.Id.ModelId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.ModelHistory.UnitVariance;

/** How far the units of each model differ, as its last judgement found it. */
public final class UnitVariances {
  private static final String PUT =
      """
      insert into unit_variance (model_id, variance, degrees_of_freedom)
      values (:model, :variance, :degrees)
      on conflict (model_id) do update
         set variance = excluded.variance, degrees_of_freedom = excluded.degrees_of_freedom""";
  private static final String DROP =
      """
      delete from unit_variance where model_id = :model""";
  private static final String ALL =
      """
      select variance, degrees_of_freedom from unit_variance order by model_id""";

  private UnitVariances() {}

  /** Replaces the model's; empty where its units were not carried together. */
  public static void put(Tx tx, ModelId model, Optional<UnitVariance> units) {
    if (units.isEmpty()) {
      tx.update(DROP).bind("model", model).execute();
      return;
    }
    tx.update(PUT)
        .bind("model", model)
        .bind("variance", units.get().variance())
        .bind("degrees", units.get().degreesOfFreedom())
        .execute();
  }

  /** Of all models that have one. */
  public static List<UnitVariance> all(Tx tx) {
    return tx.query(ALL)
        .map(Row.as(r -> new UnitVariance(r.real("variance"), r.real("degrees_of_freedom"))))
        .list();
  }
}
