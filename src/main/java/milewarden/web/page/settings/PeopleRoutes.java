package milewarden.web.page.settings;

import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.people.PersonName;
import milewarden.people.RandomSecret;
import milewarden.people.Role;
import milewarden.people.Scope;
import milewarden.report.page.settings.PeoplePage;
import milewarden.store.Id.PersonId;
import milewarden.store.Id.TokenId;
import milewarden.store.Tx;
import milewarden.store.people.ApiTokens;
import milewarden.store.people.People;
import milewarden.store.people.Staff;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.Visitor;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** Who may come in, and by which tokens. */
public final class PeopleRoutes implements Routes {
  private static final String HERE = "/settings/people";
  private static final long LONGEST_DAYS = 366;

  private final Desk desk;

  public PeopleRoutes(Desk desk) {
    this.desk = desk;
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get(HERE, http -> show(http, "", true, Optional.empty()));
    config.routes.post(HERE, this::add);
    config.routes.post(HERE + "/{id}", this::change);
    config.routes.post("/settings/tokens", this::token);
    config.routes.post("/settings/tokens/{id}/revoke", this::revoke);
  }

  private void show(Context http, String said, boolean done, Optional<String> secret) {
    Visitor visitor = Visitor.of(http);
    PeoplePage page = desk.database().read(tx -> page(tx, visitor, said, done, secret));
    if (secret.isPresent()) http.header("Cache-Control", "no-store");
    desk.renderer().show(http, "people", Frame.of("People", "/settings"), page);
  }

  private PeoplePage page(
      Tx tx, Visitor visitor, String said, boolean done, Optional<String> secret) {
    List<PeoplePage.Person> people =
        People.all(tx).stream()
            .map(
                p ->
                    new PeoplePage.Person(
                        p.id().value(),
                        p.name().text(),
                        p.role().code(),
                        desk.digits().date(p.addedAt()),
                        visitor.person().filter(p.id()::equals).isPresent()))
            .toList();
    return new PeoplePage(
        visitor.equals(Visitor.HERE) && people.isEmpty(),
        said,
        done,
        secret,
        people,
        ApiTokens.all(tx).stream().map(t -> token(t, tx.now())).toList());
  }

  private PeoplePage.Token token(ApiTokens.Token t, Instant now) {
    String state =
        t.revokedAt().isPresent()
            ? "revoked " + desk.digits().date(t.revokedAt().get())
            : t.holds(now) ? "holds" : "is over";
    return new PeoplePage.Token(
        t.id().value(),
        t.name(),
        t.role().code(),
        Scope.written(t.scopes()).replace(" ", ", "),
        t.madeBy(),
        desk.digits().date(t.expiresAt()),
        state,
        t.holds(now));
  }

  private void add(Context http) {
    answer(
        http,
        Staff.add(desk.database(), Sent.text(http, "name"), role(http), given(http, "passphrase")));
  }

  /** Another role, another passphrase, or gone. */
  private void change(Context http) {
    PersonId id = new PersonId(Sent.part(http, "id"));
    People.Person person =
        desk.database()
            .<Optional<People.Person>>read(tx -> People.find(tx, id))
            .orElseThrow(() -> Sent.missing("person"));
    Optional<String> refusal =
        switch (Sent.text(http, "do")) {
          case "role" -> Staff.role(desk.database(), person, role(http));
          case "passphrase" -> Staff.passphrase(desk.database(), person, given(http, "passphrase"));
          case "remove" -> Staff.remove(desk.database(), person);
          default -> throw new BadRequestResponse("The form does not say what to change.");
        };
    answer(http, refusal);
  }

  private void answer(Context http, Optional<String> refusal) {
    if (refusal.isPresent()) show(http, refusal.get(), false, Optional.empty());
    else http.redirect(HERE);
  }

  private void token(Context http) {
    String name = Sent.text(http, "name");
    Optional<String> refusal = PersonName.refusal(name);
    long days = Sent.parse(Sent.text(http, "days")).orElse(0L);
    if (refusal.isEmpty() && (days < 1 || days > LONGEST_DAYS))
      refusal = Optional.of("A token is good for 1 to " + LONGEST_DAYS + " days.");
    Visitor visitor = Visitor.of(http);
    Role role = role(http).atMost(visitor.role());
    Set<Scope> scopes = scopes(http);
    if (refusal.isEmpty()) refusal = Scope.refusal(scopes, role);
    if (refusal.isPresent()) {
      show(http, refusal.get(), false, Optional.empty());
      return;
    }
    String secret = RandomSecret.makeToken();
    desk.database()
        .change(
            tx ->
                ApiTokens.add(
                    tx,
                    PersonName.of(name),
                    secret,
                    role,
                    scopes,
                    visitor.person(),
                    tx.now().plus(Duration.ofDays(days))));
    show(
        http, "The token was made. It is shown this once: copy it now.", true, Optional.of(secret));
  }

  private void revoke(Context http) {
    TokenId id = new TokenId(Sent.part(http, "id"));
    desk.database()
        .change(
            tx ->
                ApiTokens.revoke(
                    tx, ApiTokens.find(tx, id).orElseThrow(() -> Sent.missing("token"))));
    http.redirect(HERE);
  }

  private static Role role(Context http) {
    return Role.of(Sent.text(http, "role"))
        .orElseThrow(() -> new BadRequestResponse("The form lacks its role."));
  }

  // None chosen: all that the role may.
  private static Set<Scope> scopes(Context http) {
    List<String> codes = http.formParams("scope");
    if (codes.isEmpty()) return Set.of(Scope.ALL);
    return Scope.of(codes)
        .orElseThrow(() -> new BadRequestResponse("A scope of the form is not known."));
  }

  // Spaces at the ends of a passphrase belong to it.
  private static String given(Context http, String field) {
    String value = http.formParam(field);
    return value == null ? "" : value;
  }
}
