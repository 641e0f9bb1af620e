package milewarden.store.judged;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import milewarden.store.Id.DueId;
import milewarden.store.Id.ModelId;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.verdict.DueItem;

/** Brings the due items to what a judgement found; what a person does to one is in DueItems. */
public final class Settling {
  private static final String LASTING =
      """
      select id, cause_key, closed_at from due_item
       where model_id = :model and (closed_at is null or gone_at is null)
       order by id""";
  private static final String RAISE =
      """
      insert into due_item (model_id, cause_key, kind, severity, cause, firmware, item, raised_at,
                            told_at)
      values (:model, :key, :kind, :severity, :cause, :firmware, :item, :now, :told)
      returning id""";
  private static final String RENEW =
      """
      update due_item set kind = :kind, severity = :severity, item = :item where id = :id""";
  private static final String GONE =
      """
      update due_item set gone_at = :now where id = :id and gone_at is null""";
  private static final String WAS_TOLD =
      """
      select exists (select 1 from due_item
                      where model_id = :model and cause_key = :key and told_at is not null) as told""";

  private Settling() {}

  /** What a judgement changed. */
  public record Changes(List<DueId> raised, List<DueId> closed) {
    public Changes {
      raised = List.copyOf(raised);
      closed = List.copyOf(closed);
    }
  }

  /**
   * Brings a model's items to what a judgement found: new causes are raised, lasting ones take the
   * new numbers, and items whose cause is gone close.
   *
   * @param quiet true where nothing was run: of a cause that was told before, nobody is told again
   */
  public static Changes settle(Tx tx, ModelId model, List<DueItem> found, boolean quiet) {
    Map<String, Lasting> lasting = lasting(tx, model);
    Set<String> keys = found.stream().map(DueItem::key).collect(Collectors.toSet());
    List<DueId> raised = new ArrayList<>();
    List<DueId> closed = new ArrayList<>();
    lasting.forEach(
        (key, item) -> {
          if (keys.contains(key)) return;
          if (item.open()) {
            DueItems.close(tx, item.id(), DueItems.JUDGE, "", true);
            closed.add(item.id());
          } else {
            tx.update(GONE).bind("id", item.id()).bind("now", tx.now()).execute();
            DueHistory.event(tx, item.id(), DueHistory.What.CAUSE_GONE, DueItems.JUDGE, "");
          }
        });
    for (DueItem item : found) {
      Lasting known = lasting.get(item.key());
      if (known == null)
        raised.add(raise(tx, model, item, quiet && wasTold(tx, model, item.key())));
      else if (known.open()) renew(tx, known.id(), item);
    }
    return new Changes(raised, closed);
  }

  /** An item whose cause lasts: open, or closed by the tester. */
  private record Lasting(DueId id, boolean open) {}

  private static Map<String, Lasting> lasting(Tx tx, ModelId model) {
    Map<String, Lasting> lasting = new HashMap<>();
    tx.query(LASTING)
        .bind("model", model)
        .map(
            Row.as(
                r ->
                    lasting.put(
                        r.text("cause_key"),
                        new Lasting(new DueId(r.number("id")), !r.has("closed_at")))))
        .list();
    return lasting;
  }

  /** True where a message told of this cause once, whether or not it is open now. */
  public static boolean wasTold(Tx tx, ModelId model, String key) {
    return tx.query(WAS_TOLD)
        .bind("model", model)
        .bind("key", key)
        .map(Row.as(r -> r.flag("told")))
        .one();
  }

  private static DueId raise(Tx tx, ModelId model, DueItem item, boolean quiet) {
    DueId id =
        tx.inserting(RAISE)
            .bind("model", model)
            .bind("key", item.key())
            .bind("kind", item.kind())
            .bind("severity", item.severity())
            .bind("cause", item.cause())
            .bind("firmware", item.firmware())
            .bind("item", Json.write(item))
            .bind("now", tx.now())
            .bind("told", quiet ? Optional.of(tx.now()) : Optional.empty())
            .map(Row.as(r -> new DueId(r.number("id"))))
            .one();
    DueHistory.event(tx, id, DueHistory.What.RAISED, DueItems.JUDGE, "");
    return id;
  }

  private static void renew(Tx tx, DueId id, DueItem item) {
    tx.update(RENEW)
        .bind("id", id)
        .bind("kind", item.kind())
        .bind("severity", item.severity())
        .bind("item", Json.write(item))
        .execute();
  }
}
