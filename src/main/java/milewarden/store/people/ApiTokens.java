package milewarden.store.people;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.people.PersonName;
import milewarden.people.RandomSecret;
import milewarden.people.Role;
import milewarden.people.Scope;
import milewarden.store.ChangeRecord;
import milewarden.store.Id.PersonId;
import milewarden.store.Id.TokenId;
import milewarden.store.Row;
import milewarden.store.Tx;

/** Tokens by which programs come in: no more than a role and a purpose, and not for ever. */
public final class ApiTokens {
  private static final String COLUMNS =
      "select id, name, role, scopes, maker_id, made_by, made_at, expires_at, revoked_at from api_token ";
  private static final String ADD =
      """
      insert into api_token (name, secret, role, scopes, maker_id, made_by, made_at, expires_at)
      values (:name, :secret, :role, :scopes, :maker, :by, :now, :expires) returning id""";
  private static final String REVOKE =
      "update api_token set revoked_at = :now where id = :id and revoked_at is null";
  private static final String REVOKE_ALL =
      "update api_token set revoked_at = :now where maker_id = :maker and revoked_at is null";
  private static final String BY_SECRET = COLUMNS + "where secret = :secret";
  private static final String BY_ID = COLUMNS + "where id = :id";
  private static final String ALL = COLUMNS + "order by id desc";

  private ApiTokens() {}

  /**
   * One token.
   *
   * @param scopes what it is for
   * @param maker the person whose token it is; empty where nobody had a passphrase
   * @param madeBy who made it, in words
   */
  public record Token(
      TokenId id,
      String name,
      Role role,
      Set<Scope> scopes,
      Optional<PersonId> maker,
      String madeBy,
      Instant madeAt,
      Instant expiresAt,
      Optional<Instant> revokedAt) {
    public Token {
      scopes = Set.copyOf(scopes);
    }

    public boolean holds(Instant now) {
      return revokedAt.isEmpty() && now.isBefore(expiresAt);
    }
  }

  /**
   * Adds one; its secret is kept as a hash, and known to nobody but who is told it now.
   *
   * @param secret as made by {@link RandomSecret#makeToken}
   */
  public static TokenId add(
      Tx tx,
      PersonName name,
      String secret,
      Role role,
      Set<Scope> scopes,
      Optional<PersonId> maker,
      Instant expires) {
    TokenId id =
        tx.inserting(ADD)
            .bind("name", name.text())
            .bind("secret", RandomSecret.kept(secret))
            .bind("role", role)
            .bind("scopes", Scope.written(scopes))
            .bind("maker", maker.map(PersonId::value).orElse(null))
            .bind("by", tx.by().words())
            .bind("now", tx.now())
            .bind("expires", expires)
            .map(Row.as(r -> new TokenId(r.number("id"))))
            .one();
    ChangeRecord.note(
        tx,
        ChangeRecord.What.TOKEN,
        name.text(),
        "made as " + role.code() + " for " + Scope.written(scopes) + ", good until " + expires);
    return id;
  }

  /**
   * Ends one.
   *
   * @return false where it was over already
   */
  public static boolean revoke(Tx tx, Token token) {
    boolean done = tx.update(REVOKE).bind("id", token.id()).bind("now", tx.now()).execute() > 0;
    if (done) ChangeRecord.note(tx, ChangeRecord.What.TOKEN, token.name(), "revoked");
    return done;
  }

  static void revokeAll(Tx tx, PersonId maker) {
    tx.update(REVOKE_ALL).bind("maker", maker).bind("now", tx.now()).execute();
  }

  public static Optional<Token> find(Tx tx, String secret) {
    return tx.query(BY_SECRET)
        .bind("secret", RandomSecret.kept(secret))
        .map(Row.as(ApiTokens::read))
        .findOne();
  }

  public static Optional<Token> find(Tx tx, TokenId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(ApiTokens::read)).findOne();
  }

  /** All, also those that are over, the newest first. */
  public static List<Token> all(Tx tx) {
    return tx.query(ALL).map(Row.as(ApiTokens::read)).list();
  }

  private static Token read(Row r) throws java.sql.SQLException {
    return new Token(
        new TokenId(r.number("id")),
        r.text("name"),
        r.choice("role", Role.class),
        Scope.read(r.text("scopes")),
        r.has("maker_id") ? Optional.of(new PersonId(r.number("maker_id"))) : Optional.empty(),
        r.text("made_by"),
        r.instant("made_at"),
        r.instant("expires_at"),
        r.instantIfAny("revoked_at"));
  }
}
