package milewarden.web.door;

import java.util.EnumSet;
import java.util.Map;
import java.util.Set;
import milewarden.people.Role;
import milewarden.people.Scope;

/**
 * What each scope of a token opens. A route that is not here is opened by {@link Scope#ALL} alone;
 * the role of {@link Doors} is needed all the same.
 */
final class Scopes {
  private static final String V1 = "/api/v1";

  private static final Map<Scope, Set<String>> OPENS =
      Map.of(
          Scope.ALERTS,
          Set.of(
              "GET " + V1 + "/alerts",
              "GET " + V1 + "/alerts/{id}",
              "GET " + V1 + "/due",
              "GET " + V1 + "/due/{id}/handling",
              "GET " + V1 + "/due.ics",
              "GET " + V1 + "/feed.atom"),
          Scope.ALERTS_WRITE,
          Set.of(
              "POST " + V1 + "/alerts/{id}/acknowledge",
              "POST " + V1 + "/alerts/{id}/snooze",
              "POST " + V1 + "/due/{id}/acknowledge",
              "POST " + V1 + "/due/{id}/snooze"),
          Scope.TRACKS_WRITE,
          Set.of(
              "POST " + V1 + "/tracks",
              "GET " + V1 + "/tracks/received",
              "GET " + V1 + "/tracks/received/{id}",
              "PATCH " + V1 + "/tracks/received/{id}/tags"),
          Scope.METRICS,
          Set.of("GET /metrics"));

  private Scopes() {}

  /** The scopes of which each opens a route by itself. */
  static Set<Scope> of(String route) {
    Set<Scope> scopes = EnumSet.of(Scope.ALL);
    boolean forReaders = Doors.needs(route).filter(Role.READER::equals).isPresent();
    if (route.startsWith("GET ") && forReaders) scopes.add(Scope.READ);
    OPENS.forEach(
        (scope, routes) -> {
          if (routes.contains(route)) scopes.add(scope);
        });
    return scopes;
  }
}
