package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.atomic.AtomicReference;
import milewarden.app.config.Config;
import milewarden.people.Passphrase;
import milewarden.people.PersonName;
import milewarden.people.RandomSecret;
import milewarden.people.Role;
import milewarden.people.Scope;
import milewarden.report.Judged;
import milewarden.store.ChangeRecord;
import milewarden.store.Database;
import milewarden.store.Id.ModelId;
import milewarden.store.StoreSettings;
import milewarden.store.judged.DueItems;
import milewarden.store.judged.Settling;
import milewarden.store.people.ApiTokens;
import milewarden.store.people.People;
import milewarden.store.people.Staff;
import milewarden.store.run.Models;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Who comes into the whole server, and who doesn't. */
final class DoorTest {
  private static final String KEEPERS = "meadow kettle ninety lantern";
  private static final String TESTERS = "seven quiet wooden paddles";
  // Made once: each takes a quarter of a second.
  private static final List<String> KEPT =
      List.of(Passphrase.hash(KEEPERS), Passphrase.hash(TESTERS));

  @TempDir Path folder;
  private final AtomicReference<Instant> now =
      new AtomicReference<>(Instant.parse("2026-05-12T07:00:00Z"));
  private Household house;
  private Database database;
  private App app;

  @BeforeEach
  void start() throws Exception {
    house = new Household(folder);
    Files.writeString(
        house.configFile, Files.readString(house.configFile) + "\npublic:\n  verdicts: true\n");
    app = new App(config(), now::get).start();
    database = Database.open(StoreSettings.in(house.data), now::get);
  }

  @AfterEach
  void stop() {
    database.close();
    app.close();
  }

  private Config config() {
    return house.config();
  }

  private Browsing browser() {
    return new Browsing(app.port());
  }

  private void people() {
    database.change(
        tx -> {
          People.add(tx, PersonName.of("Ada"), Role.KEEPER, KEPT.get(0));
          People.add(tx, PersonName.of("Tom"), Role.TESTER, KEPT.get(1));
        });
  }

  private Browsing signedIn(String name, String passphrase) throws Exception {
    Browsing browser = browser();
    assertThat(browser.login(name, passphrase).statusCode()).isEqualTo(303);
    return browser;
  }

  private void wait(Duration span) {
    now.updateAndGet(at -> at.plus(span));
  }

  @Test
  void onTheLoopbackAddressWithoutPeopleWhoeverIsHereMayAll() throws Exception {
    Browsing browser = browser();
    for (String path : List.of("/", "/due", "/settings/people", "/api/v1/changes", "/metrics"))
      assertThat(browser.get(path).statusCode()).as(path).isEqualTo(200);
    assertThat(browser.post("/settings/tokens", "name", "x", "role", "keeper", "days", "1").body())
        .contains("mwt_");
    assertThat(database.read(tx -> ChangeRecord.page(tx, 1, 0)).get(0).actor().words())
        .isEqualTo("this machine");
  }

  @Test
  void anAddressThatOthersReachTakesAKeeperFirst() {
    app.close();
    house.configure("address: 0.0.0.0");
    assertThatThrownBy(() -> new App(config(), now::get).start())
        .hasMessageContaining("people add NAME --role keeper");
    people();
    try (App open = new App(config(), now::get).start()) {
      assertThat(open.port()).isPositive();
    }
  }

  @Test
  void whoeverIsLoggedInIsNotAskedForTheirNameAndCanNotGiveAnother() throws Exception {
    people();
    Browsing tom = signedIn("Tom", TESTERS);
    long item = due();
    assertThat(tom.get("/alerts/items/" + item).body())
        .contains("Who: Tom")
        .doesNotContain("name=\"by\"");
    tom.post("/alerts/items/" + item + "/acknowledge", "by", "Ada", "words", "mine");
    assertThat(tom.get("/alerts/items/" + item).body())
        .contains("Acknowledged by Tom")
        .doesNotContain("Acknowledged by Ada");
  }

  private long due() {
    database.change(
        tx -> {
          ModelId model = Models.unit(tx, "fell-2-a", "Fell 2").model();
          Settling.settle(tx, model, List.of(Judged.untested()), false);
        });
    return database.read(tx -> DueItems.open(tx)).get(0).id().value();
  }

  /** Every route of the server, asked by a stranger and by every role. */
  @Test
  void everyRouteLetsInThoseItsRoleMeansAndNobodyElse() throws Exception {
    people();
    Map<Role, String> tokens =
        Map.of(
            Role.READER, token(Role.READER),
            Role.TESTER, token(Role.TESTER),
            Role.KEEPER, token(Role.KEEPER));
    List<String> wrong = new ArrayList<>();
    List<String> routes = app.routes();
    assertThat(routes).hasSizeGreaterThan(60).contains("POST /verdicts", "GET /api/v1/runs/{id}");
    for (String route : routes) {
      String declared = milewarden.web.door.DoorsAsDeclared.of(route);
      if (declared.equals("nobody")) wrong.add(route + " has no role in web.door.Doors");
      if (declared.equals("open")) continue;
      String method = route.substring(0, route.indexOf(' '));
      String path = route.substring(route.indexOf(' ') + 1).replaceAll("\\{[^}]+}", "999999");
      if (statusOf(method, path, null) != 401) wrong.add(route + " lets a stranger in");
      for (Role role : Role.values()) {
        int status = statusOf(method, path, tokens.get(role));
        boolean may = !declared.equals("nobody") && role.may(Role.of(declared).orElseThrow());
        if (may == (status == 403)) wrong.add(route + " answers " + status + " to a " + role);
        if (status == 500) wrong.add(route + " fails");
      }
    }
    assertThat(wrong).isEmpty();
  }

  // Pages are asked as programs ask them; a post by token carries its form's token, too.
  private int statusOf(String method, String path, String token) throws Exception {
    Browsing browser = browser();
    List<String> headers = new ArrayList<>(List.of("Accept", "application/json"));
    if (token != null) headers.addAll(List.of("Authorization", "Bearer " + token));
    if (method.equals("POST") && token == null)
      headers.addAll(List.of("X-CSRF-Token", browser.token()));
    return browser.send(method, path, "", headers.toArray(String[]::new)).statusCode();
  }

  /** The API's description says which scopes open what; the rest of the routes is said here. */
  @Test
  void everyRouteOpensToTheScopesThatTheDescriptionNamesAndToNoOther() throws Exception {
    people();
    JsonNode paths =
        new ObjectMapper().readTree(browser().get("/api/v1/openapi.json").body()).get("paths");
    Map<Scope, String> tokens = new EnumMap<>(Scope.class);
    for (Scope scope : Scope.values()) tokens.put(scope, token(Role.KEEPER, scope));
    List<String> wrong = new ArrayList<>();
    for (String route : app.routes()) {
      String declared = milewarden.web.door.DoorsAsDeclared.of(route);
      if (declared.equals("open")) continue;
      String method = route.substring(0, route.indexOf(' '));
      String named = route.substring(route.indexOf(' ') + 1);
      Set<Scope> open =
          named.startsWith("/api/v1/")
              ? scopes(paths.path(named.substring(7)).path(method.toLowerCase(Locale.ROOT)))
              : ofAPage(route, declared);
      for (Scope scope : Scope.values()) {
        int status = statusOf(method, named.replaceAll("\\{[^}]+}", "999999"), tokens.get(scope));
        if (open.contains(scope) == (status == 403))
          wrong.add(route + " answers " + status + " to " + scope.code());
      }
    }
    assertThat(wrong).isEmpty();
  }

  private static Set<Scope> scopes(JsonNode operation) {
    Set<Scope> scopes = EnumSet.noneOf(Scope.class);
    for (JsonNode way : operation.path("security"))
      for (JsonNode code : way.path("token")) scopes.add(Scope.of(code.asText()).orElseThrow());
    return scopes;
  }

  private static Set<Scope> ofAPage(String route, String role) {
    Set<Scope> scopes = EnumSet.of(Scope.ALL);
    if (route.startsWith("GET ") && role.equals("reader")) scopes.add(Scope.READ);
    if (route.equals("GET /metrics")) scopes.add(Scope.METRICS);
    return scopes;
  }

  @Test
  void aTokenOfOneScopeIsToldWhichItLacks() throws Exception {
    people();
    Browsing keeper = signedIn("Ada", KEEPERS);
    String page =
        keeper
            .post(
                "/settings/tokens",
                "name",
                "calendar",
                "role",
                "reader",
                "scope",
                "alerts",
                "days",
                "30")
            .body();
    String secret = page.replaceAll("(?s).*(mwt_[A-Za-z0-9_-]+).*", "$1");
    String[] bearer = {"Authorization", "Bearer " + secret};
    assertThat(browser().get("/api/v1/due.ics", bearer).statusCode()).isEqualTo(200);
    HttpResponse<String> other = browser().get("/api/v1/runs", bearer);
    assertThat(other.statusCode()).isEqualTo(403);
    // RFC 6750, section 3.1, and RFC 6749, section 3.3, for how scopes are written.
    assertThat(other.headers().firstValue("WWW-Authenticate").orElseThrow())
        .startsWith("Bearer ")
        .contains("error=\"insufficient_scope\"", "scope=\"all read\"");
    assertThat(
            keeper
                .post(
                    "/settings/tokens",
                    "name",
                    "up",
                    "role",
                    "reader",
                    "scope",
                    "tracks:write",
                    "days",
                    "30")
                .body())
        .contains("takes the role tester");
  }

  private String token(Role role) {
    return token(role, Scope.ALL);
  }

  private String token(Role role, Scope scope) {
    String secret = RandomSecret.makeToken();
    database.change(
        tx ->
            ApiTokens.add(
                tx,
                PersonName.of("for " + role.code()),
                secret,
                role,
                Set.of(scope),
                Optional.empty(),
                tx.now().plus(Duration.ofDays(1))));
    return secret;
  }

  @Test
  void whoIsNotSignedInIsLedToTheLogInAndBack() throws Exception {
    people();
    Browsing browser = browser();
    HttpResponse<String> sent = browser.get("/models/1?x=y", "Accept", "text/html");
    assertThat(sent.statusCode()).isEqualTo(302);
    assertThat(sent.headers().firstValue("Location")).contains("/login?next=%2Fmodels%2F1%3Fx%3Dy");
    HttpResponse<String> in = browser.login("ada", KEEPERS);
    assertThat(in.statusCode()).isEqualTo(303);
    assertThat(in.headers().firstValue("Location")).contains("/due");
    String cookie =
        in.headers().allValues("Set-Cookie").stream()
            .filter(c -> c.startsWith("milewarden-visit"))
            .findFirst()
            .orElseThrow();
    assertThat(cookie).contains("HttpOnly", "SameSite=Lax", "Path=/").doesNotContain("Secure");
    HttpResponse<String> page = browser.get("/due", "Accept", "text/html");
    assertThat(page.statusCode()).isEqualTo(200);
    assertThat(page.body()).contains("Log out");
    assertThat(page.headers().firstValue("Cache-Control")).contains("no-store");
  }

  @Test
  void behindTlsTheCookieTravelsByTlsAloneAndBelongsToThisHost() throws Exception {
    people();
    app.close();
    house.configure("public:\n  url: https://tests.example/");
    app = new App(config(), now::get).start();
    HttpResponse<String> in = browser().login("Ada", KEEPERS);
    assertThat(in.headers().allValues("Set-Cookie"))
        .anySatisfy(c -> assertThat(c).startsWith("__Host-milewarden=").contains("Secure"));
  }

  @Test
  void aLogInGoesOnToAPageOfOursAndNowhereElse() throws Exception {
    people();
    for (String next : List.of("//evil.example", "https://evil.example", "/\\evil.example", "x")) {
      Browsing browser = browser();
      HttpResponse<String> in =
          browser.post("/login", "name", "Ada", "passphrase", KEEPERS, "next", next);
      assertThat(in.headers().firstValue("Location")).as(next).contains("/");
    }
  }

  @Test
  void afterTheLogOutTheOldCookieOpensNothing() throws Exception {
    people();
    Browsing browser = signedIn("Ada", KEEPERS);
    String stolen = browser.cookies().get("milewarden-visit");
    assertThat(browser.post("/logout").statusCode()).isEqualTo(303);
    assertThat(browser.cookies()).doesNotContainKey("milewarden-visit");
    browser.cookies().put("milewarden-visit", stolen);
    assertThat(browser.get("/api/v1/runs").statusCode()).isEqualTo(401);
  }

  @Test
  void aVisitEndsAfterSilenceAndAfterADay() throws Exception {
    people();
    Browsing browser = signedIn("Ada", KEEPERS);
    for (int i = 0; i < 7; i++) {
      wait(Duration.ofMinutes(100));
      assertThat(browser.get("/api/v1/runs").statusCode()).as("look " + i).isEqualTo(200);
    }
    wait(Duration.ofMinutes(30));
    assertThat(browser.get("/api/v1/runs").statusCode()).as("after 12 h 10 min").isEqualTo(401);
    Browsing silent = signedIn("Ada", KEEPERS);
    wait(Duration.ofMinutes(121));
    assertThat(silent.get("/api/v1/runs").statusCode()).isEqualTo(401);
  }

  @Test
  void guessingIsSlowedDownByNameAndByAddress() throws Exception {
    people();
    Browsing browser = browser();
    for (int i = 0; i < 10; i++)
      assertThat(browser.login("Ada", "wrong words in a row " + i).statusCode()).isEqualTo(401);
    HttpResponse<String> slowed = browser.login("Ada", KEEPERS);
    assertThat(slowed.statusCode()).isEqualTo(429);
    assertThat(slowed.headers().firstValue("Retry-After")).contains("60");
    for (int i = 0; i < 9; i++) browser.login("nobody" + i, "x");
    assertThat(browser.login("Tom", TESTERS).statusCode()).as("by address").isEqualTo(429);
    wait(Duration.ofMinutes(2));
    assertThat(browser.login("Ada", KEEPERS).statusCode()).isEqualTo(303);
  }

  /** The same work for a name that is there and for one that isn't: medians within a factor. */
  @Test
  void anUnknownNameTakesAsLongAsAWrongPassphrase() throws Exception {
    people();
    List<Long> known = new ArrayList<>();
    List<Long> unknown = new ArrayList<>();
    for (int i = 0; i < 5; i++) {
      wait(Duration.ofMinutes(5));
      known.add(timeOf("Ada"));
      unknown.add(timeOf("Eve"));
    }
    known.sort(null);
    unknown.sort(null);
    // Hashing takes tens of milliseconds, all else about one: left out, it would be a factor of 10.
    assertThat((double) unknown.get(2) / known.get(2)).isBetween(1 / 2.5, 2.5);
  }

  private long timeOf(String name) throws Exception {
    Browsing browser = browser();
    String token = browser.token();
    long start = System.nanoTime();
    HttpResponse<String> answer =
        browser.send(
            "POST",
            "/login",
            "csrf=" + token + "&name=" + name + "&passphrase=not+what+it+is",
            "Content-Type",
            "application/x-www-form-urlencoded");
    assertThat(answer.statusCode()).isEqualTo(401);
    return System.nanoTime() - start;
  }

  @Test
  void aVisitsCookieAloneChangesNothingAtTheApi() throws Exception {
    people();
    Browsing browser = signedIn("Tom", TESTERS);
    assertThat(browser.send("POST", "/api/v1/tracks", "").statusCode()).isEqualTo(403);
    // Past the door: no file came.
    assertThat(
            browser
                .send("POST", "/api/v1/tracks", "", "X-CSRF-Token", browser.token())
                .statusCode())
        .isEqualTo(400);
  }

  @Test
  void aNewPassphraseTakesTheOldOneAndEndsOtherVisits() throws Exception {
    people();
    Browsing here = signedIn("Tom", TESTERS);
    Browsing elsewhere = signedIn("Tom", TESTERS);
    String wanted = "another line of five words";
    assertThat(here.post("/account", "passphrase", "wrong", "new", wanted).body())
        .contains("not the passphrase that holds");
    assertThat(here.post("/account", "passphrase", TESTERS, "new", "short").body())
        .contains("at least 15");
    assertThat(here.post("/account", "passphrase", TESTERS, "new", wanted).body())
        .contains("The new passphrase holds");
    assertThat(here.get("/api/v1/runs").statusCode()).isEqualTo(200);
    assertThat(elsewhere.get("/api/v1/runs").statusCode()).isEqualTo(401);
    assertThat(browser().login("Tom", TESTERS).statusCode()).isEqualTo(401);
    assertThat(browser().login("Tom", wanted).statusCode()).isEqualTo(303);
  }

  @Test
  void theLastKeeperStaysAndARemovedPersonIsOut() throws Exception {
    people();
    Browsing keeper = signedIn("Ada", KEEPERS);
    Browsing tester = signedIn("Tom", TESTERS);
    long ada = database.read(tx -> People.find(tx, "Ada")).orElseThrow().id().value();
    long tom = database.read(tx -> People.find(tx, "Tom")).orElseThrow().id().value();
    assertThat(keeper.post("/settings/people/" + ada, "do", "remove").body())
        .contains("last keeper");
    assertThat(keeper.post("/settings/people/" + ada, "do", "role", "role", "reader").body())
        .contains("last keeper");
    assertThat(keeper.post("/settings/people/" + tom, "do", "remove").statusCode()).isEqualTo(302);
    assertThat(tester.get("/api/v1/runs").statusCode()).isEqualTo(401);
    assertThat(browser().login("Tom", TESTERS).statusCode()).isEqualTo(401);
    assertThat(Staff.add(database, "Tom", Role.READER, TESTERS)).as("the name is free").isEmpty();
  }

  @Test
  void aTokenIsShownOnceKeptAsAHashAndNoMoreThanItsMaker() throws Exception {
    people();
    Browsing keeper = signedIn("Ada", KEEPERS);
    String page =
        keeper.post("/settings/tokens", "name", "nightly", "role", "tester", "days", "30").body();
    String secret = page.replaceAll("(?s).*(mwt_[A-Za-z0-9_-]+).*", "$1");
    // 256 bits in Base64 are 43 signs (RFC 4648).
    assertThat(secret).hasSize(4 + 43);
    assertThat(keeper.get("/settings/people").body()).contains("nightly").doesNotContain(secret);
    assertThat(stored()).contains("nightly").doesNotContain(secret);
    // No password, a hash alone would open the store's copy: SHA-256 of FIPS 180-4.
    assertThat(stored()).contains(RandomSecret.kept(secret));
    String[] bearer = {"Authorization", "Bearer " + secret};
    Browsing program = browser();
    assertThat(program.get("/api/v1/runs", bearer).statusCode()).isEqualTo(200);
    assertThat(program.get("/settings/people", bearer).statusCode()).isEqualTo(403);
    // Its maker becomes a reader: the token may no more than reading, too.
    People.Person ada = database.read(tx -> People.find(tx, "Ada")).orElseThrow();
    assertThat(Staff.add(database, "Kim", Role.KEEPER, KEEPERS)).isEmpty();
    assertThat(Staff.role(database, ada, Role.READER)).isEmpty();
    assertThat(program.send("POST", "/api/v1/tracks", "", bearer).statusCode()).isEqualTo(403);
    wait(Duration.ofDays(30));
    HttpResponse<String> over = program.get("/api/v1/runs", bearer);
    assertThat(over.statusCode()).isEqualTo(401);
    assertThat(over.headers().firstValue("WWW-Authenticate").orElseThrow())
        .startsWith("Bearer")
        .contains("invalid_token");
  }

  private String stored() throws Exception {
    StringBuilder all = new StringBuilder();
    for (String name : List.of("milewarden.db", "milewarden.db-wal")) {
      Path file = house.data.resolve(name);
      if (Files.exists(file))
        all.append(
            new String(Files.readAllBytes(file), java.nio.charset.StandardCharsets.ISO_8859_1));
    }
    return all.toString();
  }

  @Test
  void aRevokedTokenAndAnInventedOneOpenNothingEvenWhereNoneIsNeeded() throws Exception {
    String secret = token(Role.KEEPER);
    String[] bearer = {"Authorization", "Bearer " + secret};
    assertThat(browser().get("/api/v1/runs", bearer).statusCode()).isEqualTo(200);
    database.change(tx -> ApiTokens.revoke(tx, ApiTokens.find(tx, secret).orElseThrow()));
    assertThat(browser().get("/api/v1/runs", bearer).statusCode()).isEqualTo(401);
    assertThat(browser().get("/", "Authorization", "Bearer mwt_x").statusCode()).isEqualTo(401);
    assertThat(browser().get("/", "Authorization", "Basic YTpi").statusCode()).isEqualTo(401);
  }

  @Test
  void theHealthNamesNoFileToAnybodyAndIntakeDoes() throws Exception {
    people();
    Path inbox = house.data.resolve("inbox");
    Files.createDirectories(inbox);
    Files.createSymbolicLink(inbox.resolve("secret-unit.gpx"), folder.resolve("elsewhere"));
    Await.until("the health", () -> "still ready", () -> health().statusCode() == 503);
    assertThat(health().body())
        .contains("One thing in the inbox can't be taken in: the Intake page says what")
        .doesNotContain("secret-unit", folder.toString());
    assertThat(signedIn("Tom", TESTERS).get("/intake").body()).contains("secret-unit.gpx");
  }

  private HttpResponse<String> health() {
    try {
      return browser().get("/health");
    } catch (Exception e) {
      throw new AssertionError(e);
    }
  }

  @Test
  void whatIsPublicIsReadWithoutALogIn() throws Exception {
    people();
    assertThat(browser().get("/health").statusCode()).isEqualTo(200);
    assertThat(browser().get("/api/v1/openapi.json").statusCode()).isEqualTo(200);
    assertThat(browser().get("/assets/milewarden.css").statusCode()).isEqualTo(200);
    // There is no verdict yet: it is looked for, and not asked who wants to know.
    assertThat(browser().get("/public/verdicts/1/1/report.html").statusCode()).isEqualTo(404);
    assertThat(browser().get("/verdicts/1/1/report.html").statusCode()).isEqualTo(401);
  }

  @Test
  void whoChangedWhatIsOnRecordUnderTheirName() throws Exception {
    people();
    Browsing keeper = signedIn("Ada", KEEPERS);
    keeper.post(
        "/settings/people", "name", "Lin", "role", "tester", "passphrase", "thin ice on the pond");
    ChangeRecord.Change change = database.read(tx -> ChangeRecord.page(tx, 1, 0)).get(0);
    assertThat(change.actor().words()).isEqualTo("Ada");
    assertThat(change.what()).isEqualTo(ChangeRecord.What.PERSON);
    assertThat(change.subject()).isEqualTo("Lin");
    assertThat(keeper.get("/settings/changes", "Accept", "text/html").body()).contains("Lin");
    assertThat(keeper.get("/api/v1/changes").body()).contains("\"who\":\"Ada\"");
    Await.until(
        "the course's folder is looked through",
        () -> changes(),
        () -> {
          // A file must have stood still by this clock.
          wait(Duration.ofMillis(100));
          return changes().stream().anyMatch(c -> c.what() == ChangeRecord.What.COURSE);
        });
    List<ChangeRecord.Change> all = changes();
    assertThat(all)
        .anyMatch(c -> c.what() == ChangeRecord.What.COURSE && c.subject().equals("pier"))
        .anyMatch(c -> c.what() == ChangeRecord.What.POLICY)
        .noneMatch(c -> c.words().contains("thin ice"));
  }

  private List<ChangeRecord.Change> changes() {
    return database.read(tx -> ChangeRecord.page(tx, 100, 0));
  }

  @Test
  void moreUploadsThanFitAreSlowedDown() throws Exception {
    Browsing browser = browser();
    HttpResponse<String> last = browser.send("POST", "/api/v1/tracks", "");
    for (int i = 0; i < 300 && last.statusCode() != 429; i++)
      last = browser.send("POST", "/api/v1/tracks", "");
    assertThat(last.statusCode()).isEqualTo(429);
    assertThat(last.headers().firstValue("Retry-After")).contains("1");
    wait(Duration.ofSeconds(1));
    assertThat(browser.send("POST", "/api/v1/tracks", "").statusCode()).isEqualTo(400);
  }
}
