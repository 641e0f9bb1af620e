package milewarden.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import milewarden.store.StoreUnavailable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/** The server's manners, over HTTP. */
final class GuardTest {
  private static final String FORM = "application/x-www-form-urlencoded";
  private static final String PLACE = "/srv/lab/milewarden.db";
  private static final SQLiteException FULL =
      new SQLiteException(
          "[SQLITE_FULL] database or disk is full: " + PLACE, SQLiteErrorCode.SQLITE_FULL);
  private final AtomicInteger changes = new AtomicInteger();
  private final HttpClient client = HttpClient.newHttpClient();
  private WebServer server;

  @BeforeEach
  void start() {
    Renderer renderer = new Renderer();
    Routes routes =
        config -> {
          config.routes.get("/form", http -> http.result(Csrf.token(http)));
          config.routes.post("/change", http -> http.result("n" + changes.incrementAndGet()));
          config.routes.post(
              "/api/v1/change", http -> http.result("n" + changes.incrementAndGet()));
          config.routes.post("/api/v1/upload", GuardTest::countFiles);
          config.routes.post(
              "/api/v1/json",
              http -> http.result(new JsonMapper().readTree(http.body()).toString()));
          config.routes.get(
              "/api/v1/none",
              http -> {
                throw new NotFoundResponse("There is no course harbour-loop.");
              });
          config.routes.get(
              "/full",
              http -> {
                throw StoreUnavailable.behind(FULL, PLACE).orElseThrow();
              });
          config.routes.get(
              "/broken",
              http -> {
                throw new IllegalStateException("a secret of ours");
              });
        };
    Guard guard =
        new Guard(
            renderer,
            new WebSettings(0, Optional.of(URI.create("https://distance.example/"))),
            new Guard.Limits(1, 2, 10_000, 20));
    server = WebServer.start(new WebSettings(0), renderer, guard, List.of(routes));
  }

  @AfterEach
  void stop() {
    server.close();
  }

  @Test
  void aStoreThatCannotBeUsedIsSaidWithoutItsPlace() throws Exception {
    for (String accept : List.of("text/html", "application/json")) {
      HttpResponse<String> answer =
          client.send(
              HttpRequest.newBuilder(URI.create(server.address() + "full"))
                  .header("Accept", accept)
                  .build(),
              BodyHandlers.ofString());
      // RFC 9110, sections 15.6.4 and 10.2.3.
      assertThat(answer.statusCode()).isEqualTo(503);
      assertThat(answer.headers().firstValue("Retry-After")).hasValue("60");
      assertThat(answer.body())
          .contains("The disk that holds the store is full")
          .doesNotContain(PLACE, "/srv", "milewarden.db", "SQLITE");
    }
  }

  private static void countFiles(Context http) {
    http.result(http.uploadedFiles().size() + " files");
  }

  private HttpRequest.Builder to(String path) {
    return HttpRequest.newBuilder(URI.create(server.address()).resolve(path));
  }

  private HttpResponse<String> send(HttpRequest.Builder request)
      throws IOException, InterruptedException {
    return client.send(request.build(), BodyHandlers.ofString());
  }

  private HttpResponse<String> post(String path, String body, String... headers)
      throws IOException, InterruptedException {
    HttpRequest.Builder request =
        to(path).POST(BodyPublishers.ofString(body)).header("Content-Type", FORM);
    if (headers.length > 0) request.headers(headers);
    return send(request);
  }

  private static String cookieOf(HttpResponse<String> response) {
    return response.headers().firstValue("Set-Cookie").orElseThrow().split(";")[0];
  }

  private static JsonNode problem(HttpResponse<String> response) throws IOException {
    assertThat(response.headers().firstValue("Content-Type"))
        .hasValueSatisfying(t -> assertThat(t).startsWith("application/problem+json"));
    return new JsonMapper().readTree(response.body());
  }

  @Test
  void everyAnswerCarriesTheHeadersAlsoAnAssetAndAnError() throws Exception {
    for (String path : List.of("form", "assets/milewarden.css", "nowhere", "broken")) {
      HttpResponse<String> answer = send(to(path));
      assertThat(answer.headers().firstValue("Content-Security-Policy"))
          .as(path)
          .hasValueSatisfying(
              p -> assertThat(p).contains("default-src 'none'").contains("frame-ancestors 'none'"));
      assertThat(answer.headers().firstValue("X-Content-Type-Options")).contains("nosniff");
      assertThat(answer.headers().firstValue("Referrer-Policy")).contains("same-origin");
    }
  }

  @Test
  void aFormWithItsTokenAndItsCookieIsTaken() throws Exception {
    HttpResponse<String> page = send(to("form"));
    HttpResponse<String> answer = post("change", "csrf=" + page.body(), "Cookie", cookieOf(page));
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(changes).hasValue(1);
  }

  @Test
  void theCookieIsHiddenFromScriptsAndFromOtherSites() throws Exception {
    String cookie = send(to("form")).headers().firstValue("Set-Cookie").orElseThrow();
    assertThat(cookie).contains("HttpOnly").contains("SameSite=Lax").contains("Path=/");
  }

  @Test
  void aFormWithoutTokenWithoutCookieOrWithAnotherCookieChangesNothing() throws Exception {
    HttpResponse<String> page = send(to("form"));
    HttpResponse<String> other = send(to("form"));
    assertThat(post("change", "", "Cookie", cookieOf(page)).statusCode()).isEqualTo(403);
    assertThat(post("change", "csrf=" + page.body()).statusCode()).isEqualTo(403);
    assertThat(post("change", "csrf=" + page.body(), "Cookie", cookieOf(other)).statusCode())
        .isEqualTo(403);
    assertThat(post("change", "csrf=x", "Cookie", "milewarden-form=x").statusCode()).isEqualTo(403);
    assertThat(changes).hasValue(0);
  }

  @Test
  void aPageKeepsTheCookieThatItsReaderHas() throws Exception {
    HttpResponse<String> page = send(to("form"));
    HttpResponse<String> again = send(to("form").header("Cookie", cookieOf(page)));
    assertThat(again.headers().firstValue("Set-Cookie")).isEmpty();
    assertThat(again.body()).isEqualTo(page.body());
  }

  @Test
  void anotherSitesPageCanNotPostToTheApi() throws Exception {
    assertThat(post("api/v1/change", "", "Origin", "https://elsewhere.example").statusCode())
        .isEqualTo(403);
    assertThat(post("api/v1/change", "", "Origin", "http://127.0.0.1:1").statusCode())
        .isEqualTo(403);
    assertThat(post("api/v1/change", "", "Origin", "null").statusCode()).isEqualTo(403);
    assertThat(post("api/v1/change", "", "Sec-Fetch-Site", "cross-site").statusCode())
        .isEqualTo(403);
    assertThat(changes).hasValue(0);
  }

  @Test
  void aProgramAndOurOwnPagesCanPostToTheApi() throws Exception {
    assertThat(post("api/v1/change", "").statusCode()).isEqualTo(200);
    String own = "http://127.0.0.1:" + server.port();
    assertThat(post("api/v1/change", "", "Origin", own, "Sec-Fetch-Site", "same-origin").body())
        .isEqualTo("n2");
    assertThat(post("api/v1/change", "", "Origin", "https://distance.example").statusCode())
        .isEqualTo(200);
  }

  @Test
  void aMethodInAHeaderIsRefused() throws Exception {
    HttpResponse<String> answer =
        send(to("api/v1/change").header("X-HTTP-Method-Override", "POST"));
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(problem(answer).get("detail").asText()).contains("X-HTTP-Method-Override");
    assertThat(changes).hasValue(0);
  }

  @Test
  void aNameThatIsNotOursIsRefused() throws Exception {
    assertThat(statusFor("attacker.example")).contains(" 421 ");
    assertThat(statusFor("localhost:" + server.port())).contains(" 200 ");
    assertThat(statusFor("distance.example")).contains(" 200 ");
  }

  private String statusFor(String host) throws IOException {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), server.port())) {
      String request = "GET /form HTTP/1.1\r\nHost: " + host + "\r\nConnection: close\r\n\r\n";
      socket.getOutputStream().write(request.getBytes(StandardCharsets.US_ASCII));
      InputStream in = socket.getInputStream();
      return new String(in.readAllBytes(), StandardCharsets.UTF_8).lines().findFirst().orElse("");
    }
  }

  @Test
  void malformedJsonIsTheSendersMistake() throws Exception {
    HttpResponse<String> answer = post("api/v1/json", "{\"a\": ");
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(problem(answer).get("detail").asText()).contains("line 1");
  }

  @Test
  void aBodyThatIsTooLargeIsAnswered413() throws Exception {
    assertThat(post("api/v1/json", "\"" + "x".repeat(20_000) + "\"").statusCode()).isEqualTo(413);
    String much = "\"" + "x".repeat(20_000_000) + "\"";
    assertThat(post("api/v1/json", much).statusCode()).isEqualTo(413);
  }

  @Test
  void anUploadThatIsTooLargeIsAnswered413() throws Exception {
    HttpResponse<String> one = upload(List.of("x".repeat(1_200_000)));
    assertThat(one.statusCode()).isEqualTo(413);
    assertThat(problem(one).get("detail").asText()).contains("inbox folder");
    String part = "x".repeat(900_000);
    assertThat(upload(List.of(part, part, part)).statusCode()).isEqualTo(413);
    assertThat(upload(List.of(part, part)).body()).isEqualTo("2 files");
  }

  @Test
  void anUploadOfTooManyFilesIsAnswered413AndSaysHowManyMayCome() throws Exception {
    assertThat(upload(Collections.nCopies(20, "x")).body()).isEqualTo("20 files");
    HttpResponse<String> many = upload(Collections.nCopies(21, "x"));
    assertThat(many.statusCode()).isEqualTo(413);
    assertThat(problem(many).get("detail").asText())
        .contains("at most 20 files and fields")
        .contains("inbox folder");
    // Fields cost as files do.
    String field = "--b\r\nContent-Disposition: form-data; name=\"f\"\r\n\r\nx\r\n";
    assertThat(send(multipart(field.repeat(21))).statusCode()).isEqualTo(413);
    // Much more than fits: a sender that writes all before it reads comes to read the answer, too.
    assertThat(send(multipart(field.repeat(400_000))).statusCode()).isEqualTo(413);
    assertThat(upload(List.of("x")).body()).as("the next one").isEqualTo("1 files");
  }

  @Test
  void anUploadThatBreaksOffIsTheSendersMistake() throws Exception {
    HttpResponse<String> answer =
        send(
            to("api/v1/upload")
                .header("Content-Type", "multipart/form-data; boundary=b")
                .POST(
                    BodyPublishers.ofString(
                        "--b\r\nContent-Disposition: form-data; name=\"f\"; filename=\"a\"\r\n\r\nx")));
    assertThat(answer.statusCode()).isEqualTo(400);
  }

  private HttpResponse<String> upload(List<String> files) throws IOException, InterruptedException {
    StringBuilder body = new StringBuilder();
    for (int i = 0; i < files.size(); i++)
      body.append("--b\r\nContent-Disposition: form-data; name=\"files\"; filename=\"f")
          .append(i)
          .append(".gpx\"\r\nContent-Type: application/octet-stream\r\n\r\n")
          .append(files.get(i))
          .append("\r\n");
    return send(multipart(body.toString()));
  }

  private HttpRequest.Builder multipart(String parts) {
    return to("api/v1/upload")
        .header("Content-Type", "multipart/form-data; boundary=b")
        .POST(BodyPublishers.ofString(parts + "--b--\r\n"));
  }

  @Test
  void programsGetAProblemOfRfc9457() throws Exception {
    HttpResponse<String> answer = send(to("api/v1/none"));
    JsonNode problem = problem(answer);
    assertThat(answer.statusCode()).isEqualTo(404);
    assertThat(problem.get("status").asInt()).isEqualTo(404);
    assertThat(problem.get("type").asText()).isEqualTo("about:blank");
    assertThat(problem.get("title").asText()).isNotBlank();
    assertThat(problem.get("detail").asText()).startsWith("There is no course harbour-loop.");
    assertThat(problem.get("instance").asText()).isEqualTo("/api/v1/none");
  }

  @Test
  void browsersGetAPage() throws Exception {
    HttpResponse<String> answer = send(to("nowhere").header("Accept", "text/html"));
    assertThat(answer.statusCode()).isEqualTo(404);
    assertThat(answer.body()).contains("<h1>There is no such page.</h1>");
  }

  @Test
  void ourOwnMistakeTellsNothingOfItsInside() throws Exception {
    HttpResponse<String> answer = send(to("broken").header("Accept", "text/html"));
    assertThat(answer.statusCode()).isEqualTo(500);
    assertThat(answer.body())
        .doesNotContain("a secret of ours")
        .contains("The server's log says more");
  }
}
