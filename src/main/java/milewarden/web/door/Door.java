package milewarden.web.door;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Collections;
import java.util.Optional;
import java.util.Set;
import milewarden.people.Role;
import milewarden.people.Scope;
import milewarden.people.Throttle;
import milewarden.report.ProblemPage;
import milewarden.store.Database;
import milewarden.store.people.People;
import milewarden.web.Routes;
import milewarden.web.Visitor;
import milewarden.web.WebSettings;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Stands before every handler and behind the guard: says who comes, and whether they may. On the
 * loopback address, as long as nobody has a passphrase, whoever can use this machine may all.
 */
public final class Door implements Routes {
  private static final Logger LOG = LoggerFactory.getLogger(Door.class);
  private static final int UNAUTHORIZED = 401;
  private static final int FORBIDDEN = 403;
  private static final int TOO_MANY = 429;
  // A folder of a day's recordings at once, and then as fast as they are measured. Common practice,
  // no source; the inbox folder takes any number.
  private static final int UPLOADS = 300;
  private static final Duration EACH_UPLOAD = Duration.ofMillis(200);

  private final Database database;
  private final WebSettings settings;
  private final InstantSource clock;
  private final Visits visits;
  private final Throttle uploads = new Throttle(UPLOADS, EACH_UPLOAD);

  public Door(Database database, WebSettings settings, DoorSettings door, InstantSource clock) {
    this.database = database;
    this.settings = settings;
    this.clock = clock;
    this.visits = new Visits(database, settings, door, clock);
  }

  /**
   * Why the server must not start, in a sentence: other machines could reach it, and nobody has a
   * passphrase that could keep it.
   */
  public static Optional<String> refusal(Database database, WebSettings settings) {
    if (WebSettings.isLoopback(settings.address())) return Optional.empty();
    if (database.read(tx -> People.keepers(tx)) > 0) return Optional.empty();
    return Optional.of(
        "`address` is "
            + settings.address()
            + ", which other machines can reach, but no keeper has a passphrase yet:"
            + " run `milewarden people add NAME --role keeper` first, or take `address` out");
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.before(this::identify);
    config.routes.beforeMatched(this::admit);
    config.routes.after(http -> database.actAs(milewarden.people.Actor.SERVER));
  }

  /** Visits that people begin and end by passphrase. */
  public Visits visits() {
    return visits;
  }

  /** True where nobody needs to say who they are. */
  boolean isUnlocked() {
    return WebSettings.isLoopback(settings.address()) && database.read(tx -> People.count(tx)) == 0;
  }

  private void identify(Context http) {
    // Whatever an earlier request left on this thread.
    database.actAs(milewarden.people.Actor.SERVER);
    if (isPlain(http)) return;
    boolean unlocked = isUnlocked();
    Visitor visitor = visits.visitor(http, unlocked);
    visitor.on(http);
    database.actAs(visitor.actor());
    // What only some may see stays in nobody's cache.
    if (!unlocked) http.header("Cache-Control", "no-store");
  }

  // The health is told also where the store, and with it who comes, can't be asked.
  private static boolean isPlain(Context http) {
    String path = http.path();
    return path.startsWith("/assets/") || path.startsWith("/webjars/") || path.equals("/health");
  }

  private void admit(Context http) {
    if (isPlain(http)) return;
    var matched = http.endpoints().matchedHttpEndpoint();
    if (matched == null) return;
    String route = matched.method.name() + " " + matched.path;
    if (Doors.isOpen(route)) return;
    Visitor visitor = Visitor.of(http);
    if (!visitor.known()) askWho(http);
    else if (!visitor.equals(Visitor.HERE)) {
      check(visitor, route);
      scope(http, visitor, route);
    }
    if (Doors.isUpload(route)) slow(http);
  }

  private static void check(Visitor visitor, String route) {
    Optional<Role> needed = Doors.needs(route);
    if (needed.isEmpty()) LOG.error("{} has no role declared: it is shut", route);
    if (needed.filter(visitor::may).isPresent()) return;
    throw new HttpResponseException(
        FORBIDDEN,
        ProblemPage.ROLE
            + needed.map(Role::code).orElse("of nobody")
            + "; "
            + visitor.actor().words()
            + " has the role "
            + visitor.role().code()
            + ".");
  }

  private static void scope(Context http, Visitor visitor, String route) {
    Set<Scope> open = Scopes.of(route);
    if (!Collections.disjoint(open, visitor.scopes())) return;
    // RFC 6750 section 3.1.
    String scopes = Scope.written(open);
    http.header(
        "WWW-Authenticate",
        "Bearer realm=\"milewarden\", error=\"insufficient_scope\", scope=\"" + scopes + "\"");
    throw new HttpResponseException(
        FORBIDDEN,
        "It takes a token with one of the scopes "
            + scopes.replace(" ", ", ")
            + "; this one has "
            + Scope.written(visitor.scopes()).replace(" ", ", ")
            + ".");
  }

  /** Programs are told to say who they are; readers are led to where they can. */
  private static void askWho(Context http) {
    boolean page = "GET".equals(http.req().getMethod()) && !http.path().startsWith("/api/");
    String accept = http.header("Accept");
    if (page && accept != null && accept.contains("text/html")) {
      String query = http.queryString();
      String wanted = http.path() + (query == null ? "" : "?" + query);
      http.redirect("/login?next=" + URLEncoder.encode(wanted, StandardCharsets.UTF_8));
      http.skipRemainingHandlers();
      return;
    }
    // RFC 6750 section 3.
    http.header("WWW-Authenticate", "Bearer realm=\"milewarden\"");
    throw new HttpResponseException(UNAUTHORIZED, "It was sent without a log-in or a token.");
  }

  private void slow(Context http) {
    Instant now = clock.instant();
    uploads
        .take(visits.addressOf(http), now)
        .ifPresent(wait -> tooOften(http, wait, "So many uploads at once are not taken."));
  }

  static void tooOften(Context http, Duration wait, String sentence) {
    long seconds = Math.max(1, wait.plusMillis(999).toSeconds());
    http.header("Retry-After", Long.toString(seconds));
    throw new HttpResponseException(TOO_MANY, sentence + " Try again in " + seconds + " s.");
  }
}
