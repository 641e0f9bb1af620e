package milewarden.store.told;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import milewarden.store.Id.DueId;
import milewarden.store.Row;
import milewarden.store.Tx;

/** What waits for each receiver's next digest, and the day of the last. */
public final class Digests {
  private static final String ADD =
      """
      insert into digest_item (address, due_item_id, queued_at) values (:address, :due, :now)
      on conflict do nothing""";
  private static final String WAITING =
      """
      select due_item_id from digest_item
       where address = :address and settled_at is null order by due_item_id""";
  private static final String ADDRESSES =
      """
      select distinct address from digest_item where settled_at is null order by address""";
  private static final String SETTLE =
      """
      update digest_item set settled_at = :now
       where address = :address and due_item_id = :due and settled_at is null""";
  private static final String LAST = "select day from digest where address = :address";
  private static final String MADE =
      """
      insert into digest (address, day, made_at) values (:address, :day, :now)
      on conflict (address) do update set day = excluded.day, made_at = excluded.made_at""";

  private Digests() {}

  /** Puts an item into the next digest of a receiver, once. */
  public static void add(Tx tx, String address, DueId item) {
    tx.update(ADD).bind("address", address).bind("due", item).bind("now", tx.now()).execute();
  }

  /** What waits for a receiver's next digest. */
  public static List<DueId> waiting(Tx tx, String address) {
    return tx.query(WAITING)
        .bind("address", address)
        .map(Row.as(r -> new DueId(r.number("due_item_id"))))
        .list();
  }

  /** Those for whom something waits. */
  public static List<String> addresses(Tx tx) {
    return tx.query(ADDRESSES).map(Row.as(r -> r.text("address"))).list();
  }

  /** It was told, or is no longer to be. */
  public static void settle(Tx tx, String address, DueId item) {
    tx.update(SETTLE).bind("address", address).bind("due", item).bind("now", tx.now()).execute();
  }

  /** The local date of the last digest, also of one that had nothing to tell. */
  public static Optional<LocalDate> last(Tx tx, String address) {
    return tx.query(LAST).bind("address", address).map(Row.as(r -> r.date("day"))).findOne();
  }

  public static void made(Tx tx, String address, LocalDate day) {
    tx.update(MADE)
        .bind("address", address)
        .bind("day", day.toString())
        .bind("now", tx.now())
        .execute();
  }
}
