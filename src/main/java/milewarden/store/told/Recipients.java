package milewarden.store.told;

import java.util.List;
import java.util.Optional;
import milewarden.recipient.Recipient;
import milewarden.store.ChangeRecord;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;

/** Those who chose what they are told of. */
public final class Recipients {
  private static final String ALL = "select choice from recipient order by address";
  private static final String PUT =
      """
      insert into recipient (address, choice, changed_at) values (:address, :choice, :now)
      on conflict (address) do update set choice = excluded.choice, changed_at = excluded.changed_at""";
  private static final String REMOVE = "delete from recipient where address = :address";

  private Recipients() {}

  /** In order of their addresses. */
  public static List<Recipient> all(Tx tx) {
    return tx.query(ALL).map(Row.as(r -> Json.read(r.text("choice"), Recipient.class))).list();
  }

  /** However the address is written. */
  public static Optional<Recipient> find(Tx tx, String address) {
    return all(tx).stream().filter(r -> r.is(address)).findFirst();
  }

  /** Adds one, or replaces the choice of the same address. */
  public static void put(Tx tx, Recipient recipient) {
    find(tx, recipient.address())
        .ifPresent(old -> tx.update(REMOVE).bind("address", old.address()).execute());
    tx.update(PUT)
        .bind("address", recipient.address())
        .bind("choice", Json.write(recipient))
        .bind("now", tx.now())
        .execute();
    ChangeRecord.note(tx, ChangeRecord.What.RECIPIENT, recipient.address(), Json.write(recipient));
  }

  /**
   * Takes one away; messages that are queued go out, what waits for a digest doesn't.
   *
   * @return false where there is none
   */
  public static boolean remove(Tx tx, String address) {
    if (tx.update(REMOVE).bind("address", address).execute() == 0) return false;
    ChangeRecord.note(tx, ChangeRecord.What.RECIPIENT, address, "taken off");
    return true;
  }
}
