package milewarden.app;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;

/**
 * Every page of the server with its main states, by the route that answers it and by the store in
 * which it has them. What is no page is named too: a new route belongs to one or the other.
 */
final class EveryPage {
  /** Whose pages are asked for. */
  enum Where {
    /** The demo, a season of four models, open to whoever is on this machine. */
    DEMO,
    /** A house where people log in, with files that wait and files that were refused. */
    HOUSE,
    /** The same house, before anybody has logged in. */
    STREET,
    /** A store in which nothing is yet. */
    EMPTY
  }

  /**
   * A page in one of its states.
   *
   * @param route as it was added, without its method
   * @param address without the slash at its start
   */
  record Page(String route, Where where, String address) {
    /** True where the answer is an error: the browser itself complains of that. */
    boolean isError() {
      return route.isEmpty();
    }

    /** For a file. */
    String name() {
      String words = address.isEmpty() ? "overview" : address.replaceAll("\\W+", "-");
      return where == Where.DEMO
          ? words
          : where.name().toLowerCase(java.util.Locale.ROOT) + "-" + words;
    }

    @Override
    public String toString() {
      return where + " /" + address;
    }
  }

  private static final Pattern FOR_PROGRAMS =
      Pattern.compile(
          ".*\\.(csv|json|zip|js)|/(api|assets|webjars)/.*|/(health|metrics|live)|/results/\\{id}");
  // A file to fill in.
  private static final Set<String> FILES = Set.of("/courses/-/sheet/blank");

  private EveryPage() {}

  private static final String ERROR = "";

  static List<Page> all() {
    List<Page> pages = new ArrayList<>();
    demo(pages);
    house(pages);
    empty(pages);
    return pages;
  }

  private static void demo(List<Page> to) {
    add(to, Where.DEMO, "/", "", "?show=due&sort=name", "?find=no-such-name");
    add(to, Where.DEMO, "/due", "due");
    add(to, Where.DEMO, "/intake", "intake", "intake?state=measured");
    add(to, Where.DEMO, "/courses", "courses");
    add(to, Where.DEMO, "/courses/{slug}", "courses/ondry-loop");
    add(to, Where.DEMO, "/courses/{slug}/line", "courses/ondry-loop/line");
    add(
        to,
        Where.DEMO,
        "/courses/{slug}/measure",
        "courses/ondry-loop/measure",
        "courses/ondry-loop/measure?method=wheel",
        "courses/ondry-loop/measure?method=certificate");
    add(to, Where.DEMO, "/courses/-/sheet", "courses/-/sheet");
    add(to, Where.DEMO, "/verdicts", "verdicts", "verdicts?state=stale");
    add(to, Where.DEMO, "/verdicts/{model}/{number}", "verdicts/1/1");
    add(to, Where.DEMO, "/verdicts/{model}/{number}/report.html", "verdicts/1/1/report.html");
    add(
        to,
        Where.DEMO,
        "/public/verdicts/{model}/{number}/report.html",
        "public/verdicts/1/1/report.html");
    add(to, Where.DEMO, "/verdicts/draft", "verdicts/draft?model=1&firmware=2.1.0");
    add(to, Where.DEMO, "/alerts", "alerts", "alerts?state=failed");
    add(to, Where.DEMO, "/alerts/items/{items}", "alerts/items/1");
    add(to, Where.DEMO, "/settings", "settings", "settings?done=reading");
    add(to, Where.DEMO, "/settings/dry-run", "settings/dry-run");
    add(to, Where.DEMO, "/settings/mail", "settings/mail");
    add(to, Where.DEMO, "/demo", "demo");
    add(to, Where.DEMO, "/models/{id}", "models/1", "models/2", "models/3");
    add(to, Where.DEMO, "/models/{id}/compare", "models/1/compare?candidate=2.0.0&baseline=1.5.0");
    add(to, Where.DEMO, "/models/{id}/plan", "models/1/plan");
    add(to, Where.DEMO, "/models/{id}/sessions", "models/1/sessions", "models/1/sessions?from=9");
    add(to, Where.DEMO, "/models/{id}/sheet", "models/1/sheet");
    add(to, Where.DEMO, "/models/{model}/report.html", "models/1/report.html?firmware=2.0.0");
    add(to, Where.DEMO, "/head-to-head", "head-to-head");
    add(to, Where.DEMO, "/head-to-head/sessions", "head-to-head/sessions");
    add(to, Where.DEMO, "/runs/{id}", "runs/5", "runs/7");
    add(to, Where.DEMO, "/sessions/{name}", "{session}");
    add(
        to,
        Where.DEMO,
        ERROR,
        "no-such-page",
        "models/999",
        "models/one",
        "runs/99999",
        "sessions/none",
        "courses/none",
        "models/1/compare?candidate=9&baseline=8");
  }

  private static void house(List<Page> to) {
    add(to, Where.STREET, "/login", "login", "login?next=%2Fdue");
    add(to, Where.HOUSE, "/", "");
    add(to, Where.HOUSE, "/account", "account");
    add(
        to,
        Where.HOUSE,
        "/intake",
        "intake",
        "intake?state=refused",
        "intake?state=waiting",
        "intake?state=duplicate");
    add(to, Where.HOUSE, "/models/{id}", "models/1");
    add(to, Where.HOUSE, "/runs/{id}", "runs/1");
    add(to, Where.HOUSE, "/settings", "settings");
    add(to, Where.HOUSE, "/settings/people", "settings/people");
    add(to, Where.HOUSE, "/settings/changes", "settings/changes");
    add(to, Where.HOUSE, "/settings/dry-run/{number}", "{dry-run}");
    add(to, Where.HOUSE, ERROR, "settings/dry-run/99");
  }

  private static void empty(List<Page> to) {
    for (String page :
        List.of(
            "/",
            "/courses",
            "/intake",
            "/due",
            "/verdicts",
            "/alerts",
            "/head-to-head",
            "/settings",
            "/settings/mail",
            "/settings/people",
            "/settings/changes",
            "/settings/dry-run",
            "/courses/-/sheet")) add(to, Where.EMPTY, page, page.substring(1));
    add(to, Where.EMPTY, ERROR, "models/1");
  }

  private static void add(List<Page> to, Where where, String route, String... addresses) {
    for (String address : addresses) to.add(new Page(route, where, address));
  }

  /**
   * Routes that answer a reader and stand in no line above.
   *
   * @param routes by method and path, as the server has them
   */
  static Set<String> withoutALine(List<String> routes) {
    Set<String> missing = new TreeSet<>();
    for (String route : routes)
      if (route.startsWith("GET ")) missing.add(route.substring("GET ".length()));
    missing.removeIf(r -> FOR_PROGRAMS.matcher(r).matches());
    missing.removeAll(FILES);
    all().forEach(p -> missing.remove(p.route()));
    return missing;
  }
}
