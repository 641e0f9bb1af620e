package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.ThrowableProxyUtil;
import ch.qos.logback.core.Appender;
import ch.qos.logback.core.read.ListAppender;
import jakarta.mail.Header;
import jakarta.mail.internet.MimeMessage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Enumeration;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.app.config.Config;
import milewarden.people.Role;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.people.Staff;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slf4j.LoggerFactory;

/** Names and headers from outside, secrets in the log, and a stop in the middle of an upload. */
final class HostileSendersTest {
  // Out of the folder, cut off by NUL, turned around, a device's name, a header of its own, too
  // long.
  private static final List<String> NAMES =
      List.of(
          "../../outside.gpx",
          "..\\..\\outside.gpx",
          "/etc/outside.gpx",
          "C:\\outside.gpx",
          "a\u0000b.gpx",
          "\u202exgp.exe",
          "CON",
          "aux.gpx",
          "..",
          "a%0d%0aSet-Cookie: planted=1.gpx",
          "x".repeat(400) + ".gpx",
          "<img src=x onerror=alert(1)>.gpx");

  @TempDir Path folder;
  private final ListAppender<ILoggingEvent> logged = new ListAppender<>();
  private final List<Appender<ILoggingEvent>> printing = new ArrayList<>();
  private Household house;
  private App app;

  @BeforeEach
  void start() throws Exception {
    house = new Household(Files.createDirectory(folder.resolve("house")));
    logged.start();
    // What is logged at its most talkative is looked at here and not printed.
    root().iteratorForAppenders().forEachRemaining(printing::add);
    printing.forEach(each -> root().detachAppender(each));
    root().addAppender(logged);
    app = new App(config(), InstantSource.system()).start();
  }

  @AfterEach
  void stop() {
    app.close();
    root().detachAppender(logged);
    printing.forEach(each -> root().addAppender(each));
    root().setLevel(Level.WARN);
  }

  private static Logger root() {
    return (Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
  }

  private Config config() {
    return house.config();
  }

  private Database look() {
    return Database.open(StoreSettings.in(house.data), InstantSource.system());
  }

  /** One file in a multipart form (RFC 7578), its name as it is but for quotes. */
  private static byte[] form(String name, byte[] bytes) throws IOException {
    ByteArrayOutputStream body = new ByteArrayOutputStream();
    body.write(
        ("--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\""
                + name
                + "\"\r\nContent-Type: application/octet-stream\r\n\r\n")
            .getBytes(StandardCharsets.UTF_8));
    body.write(bytes);
    body.write("\r\n--b--\r\n".getBytes(StandardCharsets.UTF_8));
    return body.toByteArray();
  }

  private List<String> outside() throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      return all.filter(p -> !p.startsWith(house.data)).map(Path::toString).sorted().toList();
    }
  }

  @Test
  void noNameOfAFileReachesTheFileSystemOrAHeader() throws Exception {
    List<String> before = outside();
    Browsing browser = new Browsing(app.port());
    List<String> taken = new ArrayList<>();
    for (int i = 0; i < NAMES.size(); i++) {
      byte[] bytes = ("no recording " + i).getBytes(StandardCharsets.UTF_8);
      HttpResponse<String> answer =
          // Each by a connection of its own: after a form that it can't read the server ends one.
          new Browsing(app.port())
              .sendBytes(
                  "/api/v1/tracks",
                  form(NAMES.get(i), bytes),
                  "Content-Type",
                  "multipart/form-data; boundary=b");
      assertThat(answer.statusCode()).as(NAMES.get(i)).isIn(202, 400);
      assertThat(answer.headers().map()).as(NAMES.get(i)).doesNotContainKey("set-cookie");
      if (answer.statusCode() == 202) taken.add(answer.headers().firstValue("Location").get());
    }
    assertThat(taken).hasSizeGreaterThan(NAMES.size() - 3);
    try (Database database = look()) {
      for (ReceivedFiles.Received file :
          database.read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), 100))) {
        assertThat(file.path()).doesNotContain("..", "\\", "\u0000", "\u202e", "\r", "\n");
        assertThat(Path.of(file.path()).isAbsolute()).isFalse();
        HttpResponse<String> back = browser.get("/api/v1/tracks/" + file.sha256());
        assertThat(back.body()).startsWith("no recording");
        assertThat(back.headers().firstValue("Content-Disposition").orElseThrow())
            .matches("attachment; filename=\"[A-Za-z0-9._-]+\"");
        assertThat(back.headers().firstValue("X-Content-Type-Options")).contains("nosniff");
      }
    }
    assertThat(browser.get("/intake", "Accept", "text/html").body()).doesNotContain("<img src=x");
    assertThat(outside()).isEqualTo(before);
  }

  /** A release that is named like a header (CR and LF part headers: RFC 5322 section 2.2). */
  @Test
  void noTagReachesTheHeadOfAMessage() throws Exception {
    StringBuilder rows = new StringBuilder();
    for (int i = 0; i < 4; i++)
      rows.append(Household.row("B" + i, Household.day(i), "", "1.0", "0.400"));
    house.dropSheet("before/session.csv", rows.toString());
    try (Database database = look()) {
      Await.until(
          "the first release is known",
          () -> database.read(ReceivedFiles::counts),
          () -> database.read(milewarden.store.run.Runs::count) == 4);
    }
    house.dropSheet(
        "new/session.csv",
        Household.row(
            "N1", Household.day(10), "", "\"2.0\r\nBcc: evil@elsewhere.example\"", "0.401"));
    Await.until(
        "a message tells of it",
        () -> house.files("outbox"),
        () -> house.files("outbox").stream().anyMatch(f -> f.endsWith(".eml")));
    for (MimeMessage message : house.messages()) {
      assertThat(message.getHeader("Bcc")).isNull();
      Enumeration<Header> all = message.getAllHeaders();
      while (all.hasMoreElements())
        assertThat(all.nextElement().getName()).matches("[A-Za-z0-9-]+").isNotEqualTo("Bcc");
    }
  }

  private String log() {
    StringBuilder all = new StringBuilder();
    for (ILoggingEvent event : new ArrayList<>(logged.list)) {
      all.append(event.getFormattedMessage()).append('\n');
      if (event.getThrowableProxy() != null)
        all.append(ThrowableProxyUtil.asString(event.getThrowableProxy()));
    }
    return all.toString();
  }

  @Test
  void noPassphraseAndNoTokenStandsInTheLogEvenAtItsMostTalkative() throws Exception {
    root().setLevel(Level.DEBUG);
    ((Logger) LoggerFactory.getLogger("org.eclipse.jetty")).setLevel(Level.INFO);
    String passphrase = "seven quiet wooden paddles";
    Browsing browser = new Browsing(app.port());
    String page =
        browser.post("/settings/tokens", "name", "n", "role", "reader", "days", "1").body();
    String secret = page.replaceAll("(?s).*(mwt_[A-Za-z0-9_-]+).*", "$1");
    browser.get("/api/v1/runs", "Authorization", "Bearer " + secret);
    browser.get("/api/v1/runs", "Authorization", "Bearer " + secret + "x");
    try (Database database = look()) {
      assertThat(Staff.add(database, "Ada", Role.KEEPER, passphrase)).isEmpty();
    }
    browser.login("Ada", passphrase + "!");
    // What somebody typed into the wrong field.
    browser.login(passphrase, "Ada");
    assertThat(browser.login("Ada", passphrase).statusCode()).isEqualTo(303);
    assertThat(log())
        .contains("failed")
        .doesNotContain(secret, passphrase, passphrase.replace(' ', '+'))
        .doesNotContain(browser.cookies().get("milewarden-visit"));
  }

  @Test
  void anUploadUnderWayHoldsUpNoStopAndLeavesNothingHalf() throws Exception {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), app.port())) {
      OutputStream out = socket.getOutputStream();
      out.write(
          ("POST /api/v1/tracks HTTP/1.1\r\nHost: 127.0.0.1:"
                  + app.port()
                  + "\r\nContent-Type: multipart/form-data; boundary=b\r\n"
                  + "Content-Length: 50000000\r\n\r\n--b\r\nContent-Disposition: form-data;"
                  + " name=\"file\"; filename=\"a.gpx\"\r\n\r\n")
              .getBytes(StandardCharsets.US_ASCII));
      out.write(new byte[1_000_000]);
      out.flush();
      Instant start = Instant.now();
      app.close();
      assertThat(Duration.between(start, Instant.now())).isLessThan(Duration.ofSeconds(20));
    }
    try (Database database = look()) {
      assertThat(database.read(ReceivedFiles::counts)).isEmpty();
    }
    app = new App(config(), InstantSource.system()).start();
    assertThat(new Browsing(app.port()).get("/health").statusCode()).isEqualTo(200);
  }
}
