package milewarden.store.people;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import milewarden.people.PersonName;
import milewarden.people.Role;
import milewarden.store.ChangeRecord;
import milewarden.store.Id.PersonId;
import milewarden.store.Row;
import milewarden.store.Tx;

/** Who may come in, and as what. */
public final class People {
  private static final String COLUMNS =
      "select id, name, role, passphrase, added_at, changed_at from person ";
  private static final String ADD =
      """
      insert into person (name, name_key, once_key, role, passphrase, added_at, changed_at)
      values (:name, :key, :key, :role, :passphrase, :now, :now) returning id""";
  private static final String ROLE = "update person set role = :role where id = :id";
  private static final String PASSPHRASE =
      "update person set passphrase = :passphrase, changed_at = :now where id = :id";
  private static final String LEAVE =
      """
      update person set once_key = null, passphrase = '', left_at = :now
       where id = :id and left_at is null""";
  private static final String OF_NAME = COLUMNS + "where once_key = :key";
  private static final String OF_ID = COLUMNS + "where id = :id and left_at is null";
  private static final String ALL = COLUMNS + "where left_at is null order by name_key";
  private static final String COUNT = "select count(*) as n from person where left_at is null";
  private static final String KEEPERS =
      "select count(*) as n from person where left_at is null and role = 'keeper'";

  private People() {}

  /**
   * Somebody.
   *
   * @param passphrase as it is kept, never as it is said
   * @param changedAt when the passphrase was set last
   */
  public record Person(
      PersonId id,
      PersonName name,
      Role role,
      String passphrase,
      Instant addedAt,
      Instant changedAt) {
    /** Without what is kept of the passphrase. */
    @Override
    public String toString() {
      return name.text() + ", " + role.code();
    }
  }

  /** Adds somebody; the name must not be taken. */
  public static PersonId add(Tx tx, PersonName name, Role role, String keptPassphrase) {
    PersonId id =
        tx.inserting(ADD)
            .bind("name", name.text())
            .bind("key", name.key())
            .bind("role", role)
            .bind("passphrase", keptPassphrase)
            .bind("now", tx.now())
            .map(Row.as(r -> new PersonId(r.number("id"))))
            .one();
    ChangeRecord.note(tx, ChangeRecord.What.PERSON, name.text(), "added as " + role.code());
    return id;
  }

  public static void role(Tx tx, Person person, Role role) {
    tx.update(ROLE).bind("id", person.id()).bind("role", role).execute();
    ChangeRecord.note(
        tx,
        ChangeRecord.What.PERSON,
        person.name().text(),
        "role " + role.code() + " instead of " + person.role().code());
  }

  /** Sets another passphrase and ends every visit of that person. */
  public static void passphrase(Tx tx, Person person, String kept) {
    tx.update(PASSPHRASE)
        .bind("id", person.id())
        .bind("passphrase", kept)
        .bind("now", tx.now())
        .execute();
    SignIns.endAll(tx, person.id());
    ChangeRecord.note(tx, ChangeRecord.What.PERSON, person.name().text(), "passphrase set");
  }

  /** Keeps the same passphrase by today's parameters. */
  public static void keptAnew(Tx tx, Person person, String kept) {
    tx.update(PASSPHRASE)
        .bind("id", person.id())
        .bind("passphrase", kept)
        .bind("now", person.changedAt())
        .execute();
  }

  /** Lets nobody in by that name; visits end and tokens are revoked. */
  public static void remove(Tx tx, Person person) {
    tx.update(LEAVE).bind("id", person.id()).bind("now", tx.now()).execute();
    SignIns.endAll(tx, person.id());
    ApiTokens.revokeAll(tx, person.id());
    ChangeRecord.note(tx, ChangeRecord.What.PERSON, person.name().text(), "removed");
  }

  public static Optional<Person> find(Tx tx, String name) {
    if (PersonName.refusal(name).isPresent()) return Optional.empty();
    return tx.query(OF_NAME)
        .bind("key", PersonName.of(name).key())
        .map(Row.as(People::read))
        .findOne();
  }

  public static Optional<Person> find(Tx tx, PersonId id) {
    return tx.query(OF_ID).bind("id", id).map(Row.as(People::read)).findOne();
  }

  /** All who may come in, by name. */
  public static List<Person> all(Tx tx) {
    return tx.query(ALL).map(Row.as(People::read)).list();
  }

  public static int count(Tx tx) {
    return tx.query(COUNT).map(Row.as(r -> r.count("n"))).one();
  }

  public static int keepers(Tx tx) {
    return tx.query(KEEPERS).map(Row.as(r -> r.count("n"))).one();
  }

  private static Person read(Row r) throws java.sql.SQLException {
    return new Person(
        new PersonId(r.number("id")),
        new PersonName(r.text("name")),
        r.choice("role", Role.class),
        r.text("passphrase"),
        r.instant("added_at"),
        r.instant("changed_at"));
  }
}
