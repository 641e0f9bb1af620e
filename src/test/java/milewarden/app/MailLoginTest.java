package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.app.config.Config;
import milewarden.app.config.ConfigRead;
import milewarden.app.config.ConfigReader;
import milewarden.cli.Places;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.told.Outbox;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slf4j.LoggerFactory;

/** A log-in that the mail server refuses gives the password to nobody who reads about it. */
@Timeout(180)
final class MailLoginTest {
  private static final String PASSWORD = "thin ice on the pond";
  // What a log-in sends: LOGIN the password alone, PLAIN both names (RFC 4616) and the password.
  private static final List<String> SECRET =
      List.of(PASSWORD, base64(PASSWORD), base64("watch\0watch\0" + PASSWORD));

  @TempDir Path folder;
  private final ListAppender<ILoggingEvent> logged = new ListAppender<>();

  private static String base64(String text) {
    return Base64.getEncoder().encodeToString(text.getBytes(StandardCharsets.UTF_8));
  }

  private static Logger root() {
    return (Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
  }

  @BeforeEach
  void listen() {
    logged.start();
    root().addAppender(logged);
  }

  @AfterEach
  void leave() {
    root().detachAppender(logged);
  }

  private Config config(Household house) {
    return ConfigReader.read(
            Places.of(house.data).withConfig(house.configFile),
            name -> Optional.ofNullable(Map.of("MILEWARDEN_MAIL_PASSWORD", PASSWORD).get(name)))
        .fold(
            ConfigRead.Usable::config,
            r -> {
              throw new AssertionError(r.why());
            });
  }

  @ParameterizedTest
  @ValueSource(strings = {"PLAIN", "LOGIN"})
  void aRefusedLogInShowsThePasswordNowhere(String mechanism) throws Exception {
    Household house = new Household(Files.createDirectories(folder.resolve(mechanism)));
    try (EchoingMailServer server = new EchoingMailServer(mechanism)) {
      house.configure(
          """
          mail:
            host: 127.0.0.1
            port: %d
            security: none
            user: watch
            from: watch@c.example
            to: [one@c.example]
          """
              .formatted(server.port()));
      try (App app = new App(config(house), InstantSource.system()).start();
          Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
        Browsing browser = new Browsing(app.port());
        browser.post("/settings/mail/test", "address", "one@c.example");
        Await.until(
            "the log-in is refused",
            () -> messages(database),
            () -> messages(database).stream().anyMatch(m -> m.answer().isPresent()));
        assertThat(server.refusals().get(0)).contains(base64OrPlain(mechanism), PASSWORD);
        Outbox.Message row = messages(database).get(0);
        assertThat(row.answer().orElseThrow()).contains("535 5.7.8 no such log-in", "(not shown)");
        hidden("the outbox", row.answer().orElseThrow());
        String alerts = browser.get("/alerts", "Accept", "text/html").body();
        assertThat(alerts).contains("535 5.7.8 no such log-in");
        hidden("the Alerts page", alerts);
        hidden("the answer to programs", browser.get("/alerts?as=json").body());
        hidden("the settings", browser.get("/settings", "Accept", "text/html").body());
        hidden("the mail settings", browser.get("/settings/mail", "Accept", "text/html").body());
        hidden("the health", browser.get("/health").body());
      }
    }
    String log = String.join("\n", logged.list.stream().map(MailLoginTest::whole).toList());
    assertThat(log).contains("isn't delivered").contains("535 5.7.8 no such log-in");
    hidden("the log", log);
  }

  private static String base64OrPlain(String mechanism) {
    return mechanism.equals("LOGIN") ? SECRET.get(1) : SECRET.get(2);
  }

  private static void hidden(String where, String words) {
    assertThat(words).as(where).doesNotContain(SECRET);
  }

  private static String whole(ILoggingEvent event) {
    return event.getFormattedMessage()
        + (event.getThrowableProxy() == null ? "" : event.getThrowableProxy().getMessage());
  }

  private static List<Outbox.Message> messages(Database database) {
    return database.read(tx -> Outbox.page(tx, Optional.empty(), 10));
  }
}
