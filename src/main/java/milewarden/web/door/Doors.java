package milewarden.web.door;

import static java.util.Map.entry;

import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.people.Role;

/**
 * Who may do what: every route of the server, pages and API alike, with the least role that it
 * needs. A route that is not here is shut to everybody who comes by a passphrase or a token.
 */
final class Doors {
  private static final String V1 = "/api/v1";

  /** What a stranger may ask for. */
  private static final Set<String> OPEN =
      Set.of(
          "GET /health",
          "GET /assets/{name}",
          "GET /webjars/{library}/{version}/dist/{name}",
          "GET /login",
          "POST /login",
          "GET " + V1 + "/openapi.json",
          // There at all only where the settings say so.
          "GET /public/verdicts/{model}/{number}/report.html",
          "GET /public/verdicts/{model}/{number}/report.json",
          "GET /public/verdicts/{model}/{number}/capsule.zip");

  private static final Map<String, Role> NEEDS =
      Map.ofEntries(
          reader("/"),
          reader("/account"),
          entry("POST /account", Role.READER),
          entry("POST /logout", Role.READER),
          reader("/alerts"),
          keeper("/alerts/{id}/again"),
          reader("/alerts/items/{items}"),
          tester("/alerts/items/{items}/acknowledge"),
          tester("/alerts/items/{items}/snooze"),
          reader("/courses"),
          tester("/courses"),
          tester("/courses/-/track"),
          reader("/courses/{slug}"),
          reader("/courses/{slug}/line"),
          tester("/courses/{slug}/line"),
          reader("/courses/{slug}/measure"),
          tester("/courses/{slug}/measure"),
          reader("/courses/-/sheet"),
          tester("/courses/-/sheet"),
          reader("/courses/-/sheet/blank"),
          reader("/demo"),
          reader("/due"),
          tester("/due/close"),
          reader("/head-to-head"),
          reader("/head-to-head/sessions"),
          reader("/intake"),
          tester("/intake/adopt"),
          tester("/intake/files"),
          tester("/intake/tags"),
          reader("/live"),
          reader("/metrics"),
          reader("/models/{id}"),
          reader("/models/{id}/compare"),
          tester("/models/{id}/display"),
          reader("/models/{id}/plan"),
          tester("/models/{id}/plan"),
          reader("/models/{id}/sessions"),
          reader("/models/{id}/sheet"),
          tester("/models/{id}/sheet"),
          reader("/models/{id}/sheet.csv"),
          reader("/models/{id}/sheet-worker.js"),
          reader("/models/{model}/report.html"),
          reader("/models/{model}/report.json"),
          reader("/results/{id}"),
          reader("/runs/{id}"),
          tester("/runs/{id}/tags"),
          reader("/sessions/{name}"),
          reader("/settings"),
          entry("GET /settings/changes", Role.TESTER),
          // It measures the whole history anew: some work for the machine.
          entry("GET /settings/dry-run", Role.TESTER),
          tester("/settings/dry-run"),
          tester("/settings/dry-run/course"),
          tester("/settings/dry-run/engine"),
          entry("GET /settings/dry-run/{number}", Role.TESTER),
          // How numbers are written for the browser that asks.
          entry("POST /settings/reading", Role.READER),
          // Addresses of people.
          entry("GET /settings/mail", Role.KEEPER),
          keeper("/settings/mail"),
          keeper("/settings/mail/remove"),
          keeper("/settings/mail/test"),
          entry("GET /settings/people", Role.KEEPER),
          keeper("/settings/people"),
          keeper("/settings/people/{id}"),
          keeper("/settings/tokens"),
          keeper("/settings/tokens/{id}/revoke"),
          reader("/verdicts"),
          keeper("/verdicts"),
          reader("/verdicts/draft"),
          reader("/verdicts/{model}/{number}"),
          reader("/verdicts/{model}/{number}/capsule.zip"),
          reader("/verdicts/{model}/{number}/report.html"),
          reader("/verdicts/{model}/{number}/report.json"),
          keeper("/verdicts/{model}/{number}/withdraw"),
          reader(V1 + "/alerts"),
          reader(V1 + "/alerts/{id}"),
          tester(V1 + "/alerts/{id}/acknowledge"),
          keeper(V1 + "/alerts/{id}/again"),
          tester(V1 + "/alerts/{id}/snooze"),
          entry("GET " + V1 + "/changes", Role.TESTER),
          reader(V1 + "/comparisons"),
          reader(V1 + "/courses"),
          reader(V1 + "/courses/{slug}"),
          reader(V1 + "/due"),
          tester(V1 + "/due/{id}/acknowledge"),
          reader(V1 + "/due/{id}/handling"),
          tester(V1 + "/due/{id}/snooze"),
          reader(V1 + "/due.ics"),
          reader(V1 + "/feed.atom"),
          reader(V1 + "/firmware"),
          reader(V1 + "/head-to-head"),
          reader(V1 + "/models"),
          reader(V1 + "/results"),
          reader(V1 + "/runs"),
          reader(V1 + "/runs/{id}"),
          reader(V1 + "/runs/{id}/results"),
          reader(V1 + "/sessions"),
          reader(V1 + "/sessions/{id}"),
          tester(V1 + "/tracks"),
          reader(V1 + "/tracks/received"),
          reader(V1 + "/tracks/received/{id}"),
          entry("PATCH " + V1 + "/tracks/received/{id}/tags", Role.TESTER),
          reader(V1 + "/tracks/{sha256}"),
          reader(V1 + "/tracks/{sha256}/geojson"),
          reader(V1 + "/tracks/{sha256}/gpx"),
          reader(V1 + "/units"),
          reader(V1 + "/verdicts"),
          reader(V1 + "/verdicts/{id}"));

  /** What takes files, and so is bounded in how often it may be done. */
  private static final Set<String> UPLOADS =
      Set.of("POST /intake/files", "POST /courses", "POST " + V1 + "/tracks");

  private Doors() {}

  private static Map.Entry<String, Role> reader(String path) {
    return entry("GET " + path, Role.READER);
  }

  private static Map.Entry<String, Role> tester(String path) {
    return entry("POST " + path, Role.TESTER);
  }

  private static Map.Entry<String, Role> keeper(String path) {
    return entry("POST " + path, Role.KEEPER);
  }

  /**
   * True where anybody may come.
   *
   * @param route method and path as it was added, {@code GET /runs/{id}}
   */
  static boolean isOpen(String route) {
    return OPEN.contains(route);
  }

  /** The least role for a route that is not open; empty for one that nobody declared. */
  static Optional<Role> needs(String route) {
    return Optional.ofNullable(NEEDS.get(route));
  }

  static boolean isUpload(String route) {
    return UPLOADS.contains(route);
  }
}
