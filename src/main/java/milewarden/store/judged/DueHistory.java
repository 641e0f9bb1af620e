package milewarden.store.judged;

import java.time.Instant;
import java.util.List;
import milewarden.store.Id.DueId;
import milewarden.store.Row;
import milewarden.store.Tx;

/** What happened to the due items, line by line. */
public final class DueHistory {
  private static final String EVENT =
      """
      insert into due_event (due_item_id, at, what, by_whom, words)
      values (:due, :now, :what, :by, :words)""";
  private static final String EVENTS =
      """
      select at, what, by_whom, words from due_event where due_item_id = :due order by id""";

  private DueHistory() {}

  /** What happened to an item. */
  public enum What {
    RAISED,
    TOLD,
    CLOSED,
    CAUSE_GONE,
    ACKNOWLEDGED,
    SNOOZED,
    /** Told again after it was put off. */
    REMINDED
  }

  /** One line of an item's history. */
  public record Event(Instant at, What what, String by, String words) {}

  public static List<Event> history(Tx tx, DueId id) {
    return tx.query(EVENTS)
        .bind("due", id)
        .map(
            Row.as(
                r ->
                    new Event(
                        r.instant("at"),
                        r.choice("what", What.class),
                        r.text("by_whom"),
                        r.text("words"))))
        .list();
  }

  static void event(Tx tx, DueId id, What what, String by, String words) {
    tx.update(EVENT)
        .bind("due", id)
        .bind("now", tx.now())
        .bind("what", what)
        .bind("by", by)
        .bind("words", words)
        .execute();
  }
}
