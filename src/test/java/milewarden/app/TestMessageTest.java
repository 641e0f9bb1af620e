package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.CookieManager;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import milewarden.app.config.Config;
import milewarden.app.config.ConfigRead;
import milewarden.app.config.ConfigReader;
import milewarden.app.config.YamlFile;
import milewarden.cli.Places;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * The whole server against a mail server and a program that is told: a button, and they have it.
 */
@Timeout(180)
final class TestMessageTest {
  private static final Pattern TOKEN = Pattern.compile("name=\"csrf\" value=\"([^\"]+)\"");

  @TempDir Path folder;
  private final HttpClient client =
      HttpClient.newBuilder()
          .cookieHandler(new CookieManager())
          .followRedirects(HttpClient.Redirect.NORMAL)
          .build();

  private Config config(int smtp, int http) {
    String yaml =
        """
        port: 0
        mail:
          host: 127.0.0.1
          port: %d
          security: none
          from: watch@c.example
          to: [one@c.example]
        webhook:
          url: http://127.0.0.1:%d/hook
        backup:
          folder: %s
        """
            .formatted(smtp, http, folder.resolve("copies"));
    return ConfigReader.read(
            YamlFile.parse("milewarden.yaml", yaml),
            folder.resolve("milewarden.yaml"),
            Places.of(folder.resolve("data")),
            name ->
                Optional.ofNullable(
                    Map.of("MILEWARDEN_WEBHOOK_SECRET", "0123456789abcdef0123456789abcdef")
                        .get(name)))
        .fold(
            ConfigRead.Usable::config,
            r -> {
              throw new AssertionError(r.why());
            });
  }

  private String page(App app) throws Exception {
    URI page = URI.create("http://127.0.0.1:" + app.port() + "/settings/mail");
    return client.send(HttpRequest.newBuilder(page).build(), BodyHandlers.ofString()).body();
  }

  private void ask(App app, String address) throws Exception {
    Matcher token = TOKEN.matcher(page(app));
    assertThat(token.find()).isTrue();
    String form =
        "csrf="
            + URLEncoder.encode(token.group(1), StandardCharsets.UTF_8)
            + "&address="
            + URLEncoder.encode(address, StandardCharsets.UTF_8);
    URI test = URI.create("http://127.0.0.1:" + app.port() + "/settings/mail/test");
    int status =
        client
            .send(
                HttpRequest.newBuilder(test)
                    .header("Content-Type", "application/x-www-form-urlencoded")
                    .POST(BodyPublishers.ofString(form))
                    .build(),
                BodyHandlers.ofString())
            .statusCode();
    assertThat(status).isEqualTo(200);
  }

  private boolean aCopyIsThere() {
    Path copies = folder.resolve("copies");
    if (!Files.exists(copies)) return false;
    try (Stream<Path> all = Files.list(copies)) {
      return all.map(f -> f.getFileName().toString())
          .anyMatch(name -> name.startsWith("milewarden-") && !name.endsWith(".part"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Test
  void aMailAndAPostArriveAndACopyOfTheStoreIsMade() throws Exception {
    BlockingQueue<String> posts = new LinkedBlockingQueue<>();
    HttpServer hook =
        HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 10);
    hook.createContext(
        "/hook",
        http -> {
          posts.add(new String(http.getRequestBody().readAllBytes(), StandardCharsets.UTF_8));
          http.sendResponseHeaders(204, -1);
          http.close();
        });
    hook.start();
    GreenMail mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
    mail.start();
    Config config = config(mail.getSmtp().getPort(), hook.getAddress().getPort());
    try (App app = new App(config, InstantSource.system()).start()) {
      ask(app, "one@c.example");
      assertThat(mail.waitForIncomingEmail(30_000, 1)).isTrue();
      assertThat(mail.getReceivedMessages()[0].getSubject())
          .isEqualTo("Test message of Milewarden");
      ask(app, "");
      assertThat(posts.poll(30, TimeUnit.SECONDS)).contains("\"event\":\"test\"");
      Await.until("the store is copied", () -> "no copy", this::aCopyIsThere);
    } finally {
      mail.stop();
      hook.stop(0);
    }
  }
}
