package milewarden.store.judged;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import milewarden.store.Id.ModelId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.Unreadable;
import milewarden.verdict.ModelBrief;

/**
 * The latest judgements of all models without what they rest on: in a store of 200,000 runs all
 * whole ones together take 109 MB.
 */
public final class JudgedBriefly {
  private static final String ALL =
      """
      select j.model_id, j.judged_at from judgement j join model m on m.id = j.model_id
       order by m.name, m.id""";

  private static final String FIND =
      """
      select model_id, judged_at from judgement where model_id = :model""";

  // Put with the whole one; a row of an earlier version has none until it is judged next.
  private static final String TEXT =
      """
      select case when brief_at = judged_at then brief else judgement end as brief
        from judgement where model_id = :model""";

  private JudgedBriefly() {}

  /** Of a model; empty where it was never judged. */
  public static Optional<ModelBrief> find(Tx tx, ModelId model) {
    return tx.query(FIND)
        .bind("model", model)
        .map(Row.as(r -> tx.brief(model.value(), r.text("judged_at"), text(tx, model))))
        .findOne();
  }

  private static Supplier<String> text(Tx tx, ModelId model) {
    return () -> tx.query(TEXT).bind("model", model).map(Row.as(r -> r.text("brief"))).one();
  }

  /**
   * Those that can be read, by the models' names.
   *
   * @param unread is given the others
   */
  public static Map<ModelId, ModelBrief> readable(Tx tx, List<ModelId> unread) {
    record Judged(long model, String at) {}
    List<Judged> judged =
        tx.query(ALL)
            .map(Row.as(r -> new Judged(r.number("model_id"), r.text("judged_at"))))
            .list();
    Map<ModelId, ModelBrief> all = new LinkedHashMap<>();
    for (Judged j : judged) {
      ModelId model = new ModelId(j.model());
      try {
        all.put(model, tx.brief(j.model(), j.at(), text(tx, model)));
      } catch (Unreadable e) {
        unread.add(model);
      }
    }
    return all;
  }
}
