package milewarden.store.people;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import milewarden.people.RandomSecret;
import milewarden.store.Id.PersonId;
import milewarden.store.Row;
import milewarden.store.Tx;

/** Visits of people who gave their passphrase; known by the secret in their cookie. */
public final class SignIns {
  private static final String BEGIN =
      """
      insert into sign_in (secret, person_id, begun_at, seen_at)
      values (:secret, :person, :now, :now)""";
  private static final String FIND =
      "select person_id, begun_at, seen_at from sign_in where secret = :secret";
  private static final String SEEN = "update sign_in set seen_at = :now where secret = :secret";
  private static final String END = "delete from sign_in where secret = :secret";
  private static final String END_ALL = "delete from sign_in where person_id = :person";
  private static final String END_OLD = "delete from sign_in where begun_at < :longest";

  private SignIns() {}

  /** A visit under way. */
  public record SignIn(PersonId person, Instant begunAt, Instant seenAt) {
    /** True where it is not over by its length or by silence. */
    public boolean holds(Instant now, Duration longest, Duration idle) {
      return now.isBefore(begunAt.plus(longest)) && now.isBefore(seenAt.plus(idle));
    }
  }

  /** Begins a visit and clears away those that are over. */
  public static void begin(Tx tx, PersonId person, String secret, Duration longest) {
    tx.update(END_OLD).bind("longest", tx.now().minus(longest)).execute();
    tx.update(BEGIN)
        .bind("secret", RandomSecret.kept(secret))
        .bind("person", person)
        .bind("now", tx.now())
        .execute();
  }

  public static Optional<SignIn> find(Tx tx, String secret) {
    return tx.query(FIND)
        .bind("secret", RandomSecret.kept(secret))
        .map(
            Row.as(
                r ->
                    new SignIn(
                        new PersonId(r.number("person_id")),
                        r.instant("begun_at"),
                        r.instant("seen_at"))))
        .findOne();
  }

  public static void seen(Tx tx, String secret) {
    tx.updateInPassing(SEEN)
        .bind("secret", RandomSecret.kept(secret))
        .bind("now", tx.now())
        .execute();
  }

  public static void end(Tx tx, String secret) {
    tx.update(END).bind("secret", RandomSecret.kept(secret)).execute();
  }

  static void endAll(Tx tx, PersonId person) {
    tx.update(END_ALL).bind("person", person).execute();
  }
}
