package milewarden.web.door;

import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import java.util.Optional;
import milewarden.people.Passphrase;
import milewarden.report.page.settings.AccountPage;
import milewarden.report.page.settings.LoginPage;
import milewarden.store.Database;
import milewarden.store.people.People;
import milewarden.store.people.People.Person;
import milewarden.web.Frame;
import milewarden.web.Renderer;
import milewarden.web.Routes;
import milewarden.web.Visitor;
import org.jspecify.annotations.Nullable;

/** The log-in, the log-out and what somebody changes of themselves. */
public final class DoorRoutes implements Routes {
  private final Renderer renderer;
  private final Database database;
  private final Visits visits;
  private final Door door;

  public DoorRoutes(Renderer renderer, Database database, Door door) {
    this.renderer = renderer;
    this.database = database;
    this.door = door;
    this.visits = door.visits();
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/login", this::login);
    config.routes.post("/login", this::begin);
    config.routes.post("/logout", this::end);
    config.routes.get("/account", http -> account(http, "", false));
    config.routes.post("/account", this::change);
  }

  private void login(Context http) {
    if (Visitor.of(http).known()) http.redirect(next(http));
    else show(http, "");
  }

  private void show(Context http, String refusal) {
    http.header("Cache-Control", "no-store");
    boolean nobody = database.read(tx -> People.count(tx)) == 0;
    renderer.show(
        http,
        "login",
        Frame.alone("Log in"),
        new LoginPage(next(http), given(http, "name").strip(), refusal, nobody));
  }

  private void begin(Context http) {
    if (door.isUnlocked() || visits.begin(http, given(http, "name"), given(http, "passphrase"))) {
      http.redirect(next(http), io.javalin.http.HttpStatus.SEE_OTHER);
      return;
    }
    http.status(io.javalin.http.HttpStatus.UNAUTHORIZED);
    show(http, "No such name with this passphrase.");
  }

  private void end(Context http) {
    visits.end(http);
    http.redirect("/login", io.javalin.http.HttpStatus.SEE_OTHER);
  }

  private void account(Context http, String said, boolean done) {
    Visitor visitor = Visitor.of(http);
    renderer.show(
        http,
        "account",
        Frame.of("Account", "/settings"),
        new AccountPage(
            visitor.actor().words(), visitor.role().code(), visitor.signedIn(), said, done));
  }

  private void change(Context http) {
    Visitor visitor = Visitor.of(http);
    Optional<Person> person =
        visitor.person().flatMap(id -> database.read(tx -> People.find(tx, id)));
    if (!visitor.signedIn() || person.isEmpty()) {
      account(http, "Nobody is signed in here.", false);
      return;
    }
    String wanted = given(http, "new");
    // The one that holds is asked again, and no oftener than at the log-in.
    visits.slow(http, person.get());
    if (!Passphrase.fits(given(http, "passphrase"), person.get().passphrase())) {
      account(http, "This is not the passphrase that holds. Nothing was changed.", false);
      return;
    }
    Optional<String> refusal = Passphrase.refusal(wanted, person.get().name());
    if (refusal.isPresent()) {
      account(http, refusal.get(), false);
      return;
    }
    String kept = Passphrase.hash(wanted);
    database.change(tx -> People.passphrase(tx, person.get(), kept));
    visits.renew(http, person.get());
    account(http, "The new passphrase holds; every other visit of yours has ended.", true);
  }

  private static String given(Context http, String field) {
    @Nullable String value = http.formParam(field);
    return value == null ? "" : value;
  }

  /** Where to go on: a page of ours and nothing else. */
  static String next(Context http) {
    String form = given(http, "next");
    @Nullable String query = http.queryParam("next");
    String wanted = form.isEmpty() && query != null ? query : form;
    return isOurs(wanted) ? wanted : "/";
  }

  // A browser takes // and /\ for the beginning of another host's address.
  private static boolean isOurs(String path) {
    return path.startsWith("/")
        && !path.startsWith("//")
        && path.chars().allMatch(c -> c > ' ' && c < 127 && c != '\\')
        && !path.startsWith("/login")
        && !path.startsWith("/logout");
  }
}
