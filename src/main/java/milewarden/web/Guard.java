package milewarden.web;

import com.fasterxml.jackson.core.JsonProcessingException;
import io.javalin.config.JavalinConfig;
import io.javalin.config.SizeUnit;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import java.util.HashSet;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import milewarden.report.DamageWords;
import milewarden.report.ProblemPage;
import milewarden.store.StoreUnavailable;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Stands before every handler: sets the headers, refuses forged and misdirected requests, and turns
 * every failure into a page for browsers or a problem for programs.
 */
final class Guard implements Routes {
  private static final Logger LOG = LoggerFactory.getLogger(Guard.class);

  // Pages run only our own scripts and send forms only to us. Charts and the strips in tables set
  // inline styles.
  private static final String CONTENT_POLICY =
      "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:;"
          + " connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'";
  private static final Map<String, String> HEADERS =
      Map.of(
          "Content-Security-Policy", CONTENT_POLICY,
          "X-Content-Type-Options", "nosniff",
          "X-Frame-Options", "DENY",
          // Not no-referrer: a browser then sends the origin null with our own forms.
          "Referrer-Policy", "same-origin",
          "Cross-Origin-Opener-Policy", "same-origin",
          "Cross-Origin-Resource-Policy", "same-origin",
          "Permissions-Policy", "geolocation=(), camera=(), microphone=()");
  private static final Set<String> SAFE = Set.of("GET", "HEAD", "OPTIONS");
  private static final Pattern ADDRESS = Pattern.compile("[0-9.]+|\\[[0-9a-f:.]+]");
  private static final Set<String> LOOPBACK = Set.of("127.0.0.1", "localhost", "[::1]");
  // RFC 9110 section 15; a name that Javalin does not list.
  private static final int MISDIRECTED = 421;

  private final Renderer renderer;
  private final Set<String> hosts;
  private final boolean anyAddress;
  private final Limits limits;

  /**
   * How much may be sent.
   *
   * @param fileMb one uploaded file, MiB
   * @param uploadMb all files of one upload, MiB
   * @param bodyBytes a form or a JSON document
   * @param parts files and fields of one upload together
   */
  record Limits(long fileMb, long uploadMb, long bodyBytes, int parts) {
    // A day of 1 s fixes is some 20 MiB of text; an archive of years goes by the inbox folder. Each
    // part costs memory and, as a file, a transaction: a season of one tester fits, a flood
    // doesn't.
    static final Limits DEFAULT = new Limits(200, 1000, 2_000_000, 500);

    String words() {
      return "A file may have %d MiB, all together %d; at most %d files and fields come in one form."
          .formatted(fileMb, uploadMb, parts);
    }
  }

  /**
   * @param settings by which names and addresses the server is asked
   */
  Guard(Renderer renderer, WebSettings settings, Limits limits) {
    this.renderer = renderer;
    this.limits = limits;
    Set<String> known = new HashSet<>(LOOPBACK);
    settings.publicUrl().map(u -> u.getHost().toLowerCase(Locale.ROOT)).ifPresent(known::add);
    String own = settings.address().toLowerCase(Locale.ROOT);
    known.add(own.indexOf(':') < 0 ? own : "[" + own + "]");
    this.anyAddress = settings.isAny();
    this.hosts = Set.copyOf(known);
  }

  @Override
  public void add(JavalinConfig config) {
    config.http.maxRequestSize = limits.bodyBytes();
    config.jetty.multipartConfig.maxFileSize(limits.fileMb(), SizeUnit.MB);
    config.jetty.multipartConfig.maxTotalRequestSize(limits.uploadMb(), SizeUnit.MB);
    // The server library counts the parts of an upload by the same limit as a form's keys.
    config.jetty.modifyServletContextHandler(h -> h.setMaxFormKeys(limits.parts()));
    config.routes.before(this::check);
    config.routes.exception(HttpResponseException.class, this::refused);
    config.routes.exception(JsonProcessingException.class, this::malformed);
    config.routes.exception(StoreUnavailable.class, this::withoutStore);
    config.routes.exception(Exception.class, this::failed);
  }

  private void check(Context http) {
    HEADERS.forEach(http::header);
    if (http.header("X-HTTP-Method-Override") != null)
      throw new HttpResponseException(400, "The header X-HTTP-Method-Override is not taken.");
    // A name that is not ours means that some other site's name was pointed at this machine.
    if (!isAnswered(hostOf(http)))
      throw new HttpResponseException(MISDIRECTED, "It was asked as " + http.host() + ".");
    // The server would otherwise take X-HTTP-Method-Override; the method is the one that was sent.
    if (SAFE.contains(http.req().getMethod())) return;
    if (fromElsewhere(http))
      throw new HttpResponseException(403, "It was sent from " + http.header("Origin") + ".");
    if (needsToken(http) && !Csrf.holds(http))
      throw new HttpResponseException(403, "It is older than the server's last start, or forged.");
  }

  // Whoever points a name of theirs at this machine sends that name, never a bare address.
  private boolean isAnswered(String host) {
    return hosts.contains(host) || (anyAddress && ADDRESS.matcher(host).matches());
  }

  // A program that says by a token who it is sends no cookie to forge with; what comes by cookie
  // needs its form's token, at the API too.
  private static boolean needsToken(Context http) {
    if (http.header("Authorization") != null) return false;
    return !isApi(http) || http.cookieMap().keySet().stream().anyMatch(Guard::isOfVisit);
  }

  private static boolean isOfVisit(String cookie) {
    return cookie.equals("milewarden-visit") || cookie.equals("__Host-milewarden");
  }

  private static String hostOf(Context http) {
    String host = http.host();
    if (host == null) return "";
    int port = host.lastIndexOf(':');
    String name = port > host.lastIndexOf(']') ? host.substring(0, port) : host;
    return name.toLowerCase(Locale.ROOT);
  }

  private boolean fromElsewhere(Context http) {
    String site = http.header("Sec-Fetch-Site");
    if (site != null && !site.equals("same-origin") && !site.equals("none")) return true;
    String origin = http.header("Origin");
    return origin != null && !isOwn(origin, http);
  }

  private boolean isOwn(String origin, Context http) {
    int start = origin.indexOf("://");
    String host = start < 0 ? origin : origin.substring(start + 3);
    if (host.equalsIgnoreCase(http.host())) return true;
    // Something in front of the server may have changed the host that is asked, not the origin.
    return hosts.contains(host.toLowerCase(Locale.ROOT)) && !LOOPBACK.contains(host);
  }

  private void refused(HttpResponseException e, Context http) {
    String message = e.getMessage();
    if (e.getStatus() == 413) end(http);
    answer(http, e.getStatus(), message == null || isBare(message) ? "" : message);
  }

  /**
   * Javalin's own words, such as 'Endpoint GET /x not found', say nothing that the page doesn't.
   */
  private static boolean isBare(String message) {
    return message.startsWith("Endpoint ") || message.length() < 12;
  }

  private void malformed(JsonProcessingException e, Context http) {
    var at = e.getLocation();
    String where = at == null ? "" : " at line " + at.getLineNr() + ", column " + at.getColumnNr();
    answer(http, 400, "The JSON is malformed" + where + ".");
  }

  // After a body that was given up the server library ends the connection in any case: the sender
  // must know, and send its next request by another (RFC 9112, section 9.6).
  private static void end(Context http) {
    RestOfBody.take(http);
    http.header("Connection", "close");
  }

  // The failing world, not our mistake: a sentence, which in the log names the place.
  private void withoutStore(StoreUnavailable e, Context http) {
    LOG.error("{} {}: {}", http.req().getMethod(), http.path(), e.getMessage());
    http.header("Retry-After", "60");
    answer(http, 503, Failures.page(e));
  }

  private void failed(Exception e, Context http) {
    int status = Failures.sizeOrFormStatus(e);
    if (status != 500) end(http);
    if (status == 413) {
      answer(http, status, limits.words());
    } else if (status == 400) {
      answer(http, status, "The upload breaks off or is not a form.");
    } else {
      LOG.error("{} {} failed", http.req().getMethod(), http.path(), e);
      Optional<String> record = Failures.damaged(e);
      if (record.filter(DamageWords::isMadeAnew).isPresent()) later(http, record.get());
      else answer(http, 500, record.map(DamageWords::of).orElse(""));
    }
  }

  // What is made anew by itself is unavailable for now, not broken (RFC 9110, section 15.6.4).
  private void later(Context http, String record) {
    http.header("Retry-After", Long.toString(DamageWords.ANEW_WITHIN.toSeconds()));
    answer(http, 503, ProblemPage.later(DamageWords.of(record)));
  }

  private void answer(Context http, int status, String detail) {
    answer(http, status, ProblemPage.of(status, detail));
  }

  private void answer(Context http, int status, ProblemPage page) {
    HEADERS.forEach(http::header);
    String detail = page.detail();
    if (isApi(http)
        || http.path().endsWith(".json")
        || http.queryParam("as") != null
        || !wantsPage(http.header("Accept"))) {
      // A program needs no way back to a page, but how to send more than fits.
      boolean withRemedy =
          detail.isEmpty() || status == 413 || status == 429 || status == MISDIRECTED;
      String words = withRemedy ? (detail + " " + page.remedy()).strip() : detail;
      Problem.of(status, page.title(), words, http.path()).answer(http);
      return;
    }
    http.status(status);
    renderer.show(http, "problem", Frame.of(page.title(), ""), page);
  }

  private static boolean isApi(Context http) {
    return http.path().startsWith("/api/");
  }

  private static boolean wantsPage(@Nullable String accept) {
    return accept == null || accept.contains("text/html") || accept.contains("*/*");
  }
}
