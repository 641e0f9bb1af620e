package milewarden.store.told;

import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.recipient.Recipient;
import milewarden.store.ChangeRecord;
import milewarden.store.Json;
import milewarden.store.Row;
import milewarden.store.Tx;

/** Those who chose what they are told of. */
public final class Recipients {
  private static final String ALL = "select address, choice from recipient order by address";
  private static final String PUT =
      """
      insert into recipient (address, choice, changed_at) values (:address, :choice, :now)
      on conflict (address) do update set choice = excluded.choice, changed_at = excluded.changed_at""";
  private static final String REMOVE = "delete from recipient where address = :address";

  private Recipients() {}

  /**
   * In order of their addresses. Whose choice is damaged is told of everything at once, until they
   * choose anew: who is told too much says so, who is told nothing doesn't know.
   */
  public static List<Recipient> all(Tx tx) {
    return all(tx, new ArrayList<>());
  }

  /** The addresses whose choice can't be read. */
  public static List<String> unreadable(Tx tx) {
    List<String> unread = new ArrayList<>();
    all(tx, unread);
    return unread;
  }

  private static List<Recipient> all(Tx tx, List<String> unread) {
    return tx
        .query(ALL)
        .map(Row.as(r -> read(r.text("address"), r.text("choice"), unread)))
        .list()
        .stream()
        .flatMap(Optional::stream)
        .toList();
  }

  private static Optional<Recipient> read(String address, String choice, List<String> unread) {
    Optional<Recipient> recipient = Json.readable(choice, Recipient.class);
    if (recipient.isPresent()) return recipient;
    unread.add(address);
    // Nobody can be written to where the address is damaged, too.
    return Optional.of(address)
        .filter(Recipient::isAddress)
        .map(a -> Recipient.ofEverything(a, ZoneOffset.UTC));
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
