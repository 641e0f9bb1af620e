package milewarden.web.door;

import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.HttpResponseException;
import io.javalin.http.SameSite;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Optional;
import java.util.Set;
import milewarden.people.Actor;
import milewarden.people.Passphrase;
import milewarden.people.PersonName;
import milewarden.people.RandomSecret;
import milewarden.people.Scope;
import milewarden.people.Throttle;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.people.ApiTokens;
import milewarden.store.people.People;
import milewarden.store.people.People.Person;
import milewarden.store.people.SignIns;
import milewarden.web.Visitor;
import milewarden.web.WebSettings;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Visits by passphrase and by token: begun, recognised, ended. */
public final class Visits {
  private static final Logger LOG = LoggerFactory.getLogger(Visits.class);
  private static final String BEARER = "Bearer ";
  // Not written at each request: a visit's silence is measured in minutes.
  private static final Duration SEEN_EVERY = Duration.ofMinutes(1);
  // NIST SP 800-63B-4 section 3.2.2 allows no more than 100 failures in a row; ten and then one a
  // minute leaves a guesser 1440 a day and whoever mistyped no long wait. Our own choice.
  private static final int TRIES_OF_NAME = 10;
  private static final Duration EACH_OF_NAME = Duration.ofMinutes(1);
  // Several people may come from one address.
  private static final int TRIES_OF_ADDRESS = 20;
  private static final Duration EACH_OF_ADDRESS = Duration.ofSeconds(30);

  private final Database database;
  private final WebSettings settings;
  private final DoorSettings door;
  private final InstantSource clock;
  private final Throttle names = new Throttle(TRIES_OF_NAME, EACH_OF_NAME);
  private final Throttle addresses = new Throttle(TRIES_OF_ADDRESS, EACH_OF_ADDRESS);

  Visits(Database database, WebSettings settings, DoorSettings door, InstantSource clock) {
    this.database = database;
    this.settings = settings;
    this.door = door;
    this.clock = clock;
  }

  Visitor visitor(Context http, boolean unlocked) {
    String said = http.header("Authorization");
    if (said != null) return ofToken(http, said);
    if (unlocked) return Visitor.HERE;
    String secret = http.cookie(cookieName());
    return secret == null ? Visitor.STRANGER : ofCookie(secret);
  }

  // A token that does not hold is refused also where none is needed: it is a mistake.
  private Visitor ofToken(Context http, String said) {
    String secret =
        said.regionMatches(true, 0, BEARER, 0, BEARER.length())
            ? said.substring(BEARER.length()).strip()
            : "";
    Instant now = clock.instant();
    Optional<Visitor> visitor =
        database.read(
            tx -> ApiTokens.find(tx, secret).filter(t -> t.holds(now)).flatMap(t -> of(tx, t)));
    if (visitor.isPresent()) return visitor.get();
    // RFC 6750 section 3.1.
    http.header("WWW-Authenticate", "Bearer realm=\"milewarden\", error=\"invalid_token\"");
    throw new HttpResponseException(
        401, "The token is not known, is over, or was revoked; send Authorization: Bearer TOKEN.");
  }

  /** A token may no more than its maker does today. */
  private static Optional<Visitor> of(Tx tx, ApiTokens.Token token) {
    Actor actor = Actor.token(token.name());
    if (token.maker().isEmpty())
      return Optional.of(new Visitor(actor, token.role(), Optional.empty(), true, token.scopes()));
    return token
        .maker()
        .flatMap(id -> People.find(tx, id))
        .map(
            p ->
                new Visitor(
                    actor,
                    token.role().atMost(p.role()),
                    Optional.of(p.id()),
                    true,
                    token.scopes()));
  }

  private Visitor ofCookie(String secret) {
    Instant now = clock.instant();
    Optional<SignIns.SignIn> visit =
        database
            .<Optional<SignIns.SignIn>>read(tx -> SignIns.find(tx, secret))
            .filter(v -> v.holds(now, door.longest(), door.idle()));
    if (visit.isEmpty()) return Visitor.STRANGER;
    if (visit.get().seenAt().plus(SEEN_EVERY).isBefore(now))
      database.change(tx -> SignIns.seen(tx, secret));
    return database
        .<Optional<Person>>read(tx -> People.find(tx, visit.get().person()))
        .map(
            p ->
                new Visitor(
                    Actor.person(p.name().text()),
                    p.role(),
                    Optional.of(p.id()),
                    true,
                    Set.of(Scope.ALL)))
        .orElse(Visitor.STRANGER);
  }

  /**
   * Begins a visit where name and passphrase belong together.
   *
   * @return false where they don't: in the same time, whether the name is known or not
   */
  boolean begin(Context http, String name, String passphrase) {
    String key = PersonName.refusal(name).isPresent() ? "" : PersonName.of(name).key();
    slow(http, key);
    Optional<Person> person = database.read(tx -> People.find(tx, name));
    boolean fits =
        person
            .map(p -> Passphrase.fits(passphrase, p.passphrase()))
            .orElseGet(() -> Passphrase.fitsNobody(passphrase));
    if (person.isEmpty() || !fits) {
      // Neither what was typed as a name, which may be a passphrase, nor the passphrase.
      LOG.warn("a log-in from {} failed", addressOf(http));
      return false;
    }
    names.clear(key);
    open(http, person.get(), passphrase);
    return true;
  }

  void slow(Context http, Person person) {
    slow(http, person.name().key());
  }

  private void slow(Context http, String key) {
    Instant now = clock.instant();
    String sentence = "So many tries in a row are not taken.";
    addresses.take(addressOf(http), now).ifPresent(w -> Door.tooOften(http, w, sentence));
    names.take(key, now).ifPresent(w -> Door.tooOften(http, w, sentence));
  }

  private void open(Context http, Person person, String passphrase) {
    String secret = RandomSecret.make();
    String before = http.cookie(cookieName());
    boolean outdated = Passphrase.isOutdated(person.passphrase());
    String kept = outdated ? Passphrase.hash(passphrase) : person.passphrase();
    database.change(
        tx -> {
          // Never the secret that came with the request: nobody plants one.
          if (before != null) SignIns.end(tx, before);
          if (outdated) People.keptAnew(tx, person, kept);
          SignIns.begin(tx, person.id(), secret, door.longest());
        });
    http.cookie(cookie(secret, -1));
    LOG.info("{} came in from {}", person.name().text(), addressOf(http));
  }

  /** Begins a new visit for somebody whose visits were all ended by a new passphrase. */
  void renew(Context http, Person person) {
    String secret = RandomSecret.make();
    database.change(tx -> SignIns.begin(tx, person.id(), secret, door.longest()));
    http.cookie(cookie(secret, -1));
  }

  void end(Context http) {
    String secret = http.cookie(cookieName());
    if (secret != null) database.change(tx -> SignIns.end(tx, secret));
    http.cookie(cookie("", 0));
  }

  // RFC 6265bis: the prefix __Host- binds a cookie to this host, to TLS and to the whole of it.
  private String cookieName() {
    return settings.secure() ? "__Host-milewarden" : "milewarden-visit";
  }

  // Lax and not Strict: a link in an e-mail must find who is signed in; every form has its token.
  private Cookie cookie(String value, int seconds) {
    return new Cookie(
        cookieName(), value, "/", seconds, settings.secure(), true, null, SameSite.LAX);
  }

  /**
   * Where a request came from: behind something in front of the server, what that says last, which
   * is what it saw itself.
   */
  String addressOf(Context http) {
    String seen = http.req().getRemoteAddr();
    String said = http.header("X-Forwarded-For");
    boolean behind = settings.publicUrl().isPresent() && isOwn(seen);
    if (!behind || said == null) return seen;
    String last = said.substring(said.lastIndexOf(',') + 1).strip();
    return last.matches("[0-9A-Fa-f:.]{3,45}") ? last : seen;
  }

  private static boolean isOwn(String address) {
    return address.equals("127.0.0.1")
        || address.equals("0:0:0:0:0:0:0:1")
        || address.equals("[::1]");
  }
}
