package milewarden.alert;

import static org.assertj.core.api.Assertions.assertThat;

import jakarta.mail.Session;
import jakarta.mail.internet.MimeMessage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import milewarden.alert.MailSettings.Security;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.told.Outbox;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.subethamail.smtp.MessageContext;
import org.subethamail.smtp.MessageHandler;
import org.subethamail.smtp.RejectException;
import org.subethamail.smtp.auth.EasyAuthenticationHandlerFactory;
import org.subethamail.smtp.auth.LoginFailedException;
import org.subethamail.smtp.server.SMTPServer;

/** Against a real mail server in this process: private lines, log-ins, and a server's moods. */
@Timeout(60)
final class MailServersTest {
  @TempDir Path data;
  private Instant now = Instant.parse("2026-05-12T07:00:00Z");
  private Database database;
  private SMTPServer server = new SMTPServer.Builder().build();
  private final List<byte[]> taken = Collections.synchronizedList(new ArrayList<>());
  // What the server says to the next receivers, before it says yes.
  private final Deque<RejectException> moods = new ArrayDeque<>();
  private Duration timeout = Duration.ofSeconds(10);

  @BeforeEach
  void open() {
    database = Database.open(StoreSettings.in(data.resolve("store")), () -> now);
  }

  @AfterEach
  void close() {
    server.stop();
    database.close();
  }

  private final class Taking implements MessageHandler {
    @Override
    public void from(String address) {}

    @Override
    public void recipient(String address) throws RejectException {
      RejectException mood = moods.poll();
      if (mood != null) throw mood;
    }

    @Override
    public String data(InputStream in) throws IOException {
      taken.add(in.readAllBytes());
      return "taken";
    }

    @Override
    public void done() {}
  }

  private SMTPServer.Builder builder() {
    return SMTPServer.port(0)
        .bindAddress(InetAddress.getLoopbackAddress())
        .hostName("mail.tests.example")
        .messageHandlerFactory((MessageContext context) -> new Taking());
  }

  private int start(SMTPServer.Builder builder) {
    server = builder.build();
    server.start();
    return server.getPortAllocated();
  }

  private MailSender sender(
      int port, Security security, Optional<MailSettings.Login> login, Optional<Path> trusted) {
    MailSettings settings =
        new MailSettings(
            Optional.of(
                new MailSettings.Server("127.0.0.1", port, security, login, timeout, trusted)),
            "watch@tests.example",
            List.of(),
            Duration.ofMinutes(1),
            Duration.ofHours(1));
    return new MailSender(database, settings, data.resolve("outbox"));
  }

  private MailSender plain(int port) {
    return sender(port, Security.NONE, Optional.empty(), Optional.empty());
  }

  private void queue(String id, String to, String subject, String... earlier) {
    database.change(
        tx ->
            Outbox.queue(
                tx,
                new Outbox.Draft(
                    id,
                    List.of(),
                    subject,
                    "text",
                    "<p>text</p>",
                    Optional.empty(),
                    Outbox.Channel.MAIL,
                    Optional.of(to),
                    Optional.empty(),
                    List.of(earlier))));
  }

  private void queue(String id) {
    queue(id, "one@tests.example", "subject");
  }

  private List<Outbox.Message> rows() {
    return database.read(tx -> Outbox.page(tx, Optional.empty(), 100));
  }

  private Outbox.Message row() {
    return rows().get(0);
  }

  private MimeMessage message(int i) throws Exception {
    return new MimeMessage(
        Session.getInstance(new Properties()), new ByteArrayInputStream(taken.get(i)));
  }

  private EasyAuthenticationHandlerFactory anna() {
    return new EasyAuthenticationHandlerFactory(
        (user, password, context) -> {
          if (!user.equals("anna") || !password.equals("secret")) throw new LoginFailedException();
        });
  }

  private static Optional<MailSettings.Login> login(String password) {
    return Optional.of(new MailSettings.Login("anna", password));
  }

  @Test
  void startTlsWithALogin() throws Exception {
    Path keys = Keytool.keys(data, "mine", "san=ip:127.0.0.1");
    int port =
        start(
            builder()
                .startTlsSocketFactory(Keytool.context(keys))
                .enableTLS()
                .requireTLS()
                .authenticationHandlerFactory(anna())
                .requireAuth());
    queue("a@tests.example");
    Optional<Path> trusted = Optional.of(Keytool.pem(keys));
    assertThat(sender(port, Security.STARTTLS, login("wrong"), trusted).sendDue()).isZero();
    assertThat(row().answer().orElse("")).contains("535");
    now = now.plusSeconds(60);
    assertThat(sender(port, Security.STARTTLS, login("secret"), trusted).sendDue()).isEqualTo(1);
    assertThat(message(0).getHeader("Message-ID")).containsExactly("<a@tests.example>");
    assertThat(row().answer().orElse("")).startsWith("250");
  }

  @Test
  void aServerThatWantsTlsGetsNothingInTheClear() throws Exception {
    Path keys = Keytool.keys(data, "mine", "san=ip:127.0.0.1");
    int port =
        start(builder().startTlsSocketFactory(Keytool.context(keys)).enableTLS().requireTLS());
    queue("a@tests.example");
    assertThat(plain(port).sendDue()).isZero();
    assertThat(row().answer().orElse("")).contains("530");
    assertThat(taken).isEmpty();
  }

  @Test
  void implicitTlsWithALogin() throws Exception {
    Path keys = Keytool.keys(data, "mine", "san=ip:127.0.0.1");
    int port =
        start(
            builder()
                .serverSocketFactory(Keytool.context(keys))
                .authenticationHandlerFactory(anna())
                .requireAuth());
    queue("a@tests.example");
    Optional<Path> trusted = Optional.of(Keytool.pem(keys));
    assertThat(sender(port, Security.TLS, login("secret"), trusted).sendDue()).isEqualTo(1);
    assertThat(taken).hasSize(1);
  }

  /** A certificate that is not to be believed: nobody's, another's, another name's, an old one. */
  private void isNotBelieved(Path keys, Path trusted, String words) throws Exception {
    for (Security security : List.of(Security.STARTTLS, Security.TLS)) {
      SMTPServer.Builder builder = builder();
      if (security == Security.TLS) builder.serverSocketFactory(Keytool.context(keys));
      else builder.startTlsSocketFactory(Keytool.context(keys)).enableTLS();
      int port = start(builder);
      queue("a" + security + "@tests.example");
      MailSender sender = sender(port, security, Optional.empty(), Optional.of(trusted));
      assertThat(sender.sendDue()).isZero();
      assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
      assertThat(row().answer().orElse("")).as(security.name()).containsIgnoringCase(words);
      assertThat(taken).isEmpty();
      server.stop();
    }
  }

  @Test
  void aCertificateThatSomebodyElseVouchesForIsNotBelieved() throws Exception {
    Path other = Keytool.pem(Keytool.keys(data, "other", "san=ip:127.0.0.1"));
    isNotBelieved(Keytool.keys(data, "mine", "san=ip:127.0.0.1"), other, "PKIX path");
  }

  @Test
  void aCertificateForAnotherNameIsNotBelieved() throws Exception {
    Path keys = Keytool.keys(data, "mine", "san=dns:elsewhere.example");
    isNotBelieved(keys, Keytool.pem(keys), "subject alternative names");
  }

  @Test
  void aCertificateThatHasRunOutIsNotBelieved() throws Exception {
    Path keys =
        Keytool.keys(data, "mine", "san=ip:127.0.0.1", "-startdate", "-10d", "-validity", "5");
    isNotBelieved(keys, Keytool.pem(keys), "has run out");
  }

  @Test
  void aServerThatPutsOffForNowIsTriedAgainUntilItTakesTheMessage() {
    moods.add(new RejectException(450, "4.2.0 greylisted, come again"));
    moods.add(new RejectException(451, "4.3.0 a little later"));
    int port = start(builder());
    queue("a@tests.example");
    MailSender sender = plain(port);
    assertThat(sender.sendDue()).isZero();
    assertThat(row().answer().orElse("")).contains("450");
    assertThat(row().nextTryAt()).isEqualTo(now.plus(Duration.ofMinutes(1)));
    now = row().nextTryAt();
    assertThat(sender.sendDue()).isZero();
    now = row().nextTryAt();
    assertThat(sender.sendDue()).isEqualTo(1);
    assertThat(taken).hasSize(1);
  }

  @Test
  void aServerThatPutsOffForADayLosesNothing() {
    int port = start(builder());
    queue("a@tests.example");
    MailSender sender = plain(port);
    Instant end = now.plus(Duration.ofDays(1));
    while (now.isBefore(end)) {
      moods.add(new RejectException(450, "4.2.0 later"));
      assertThat(sender.sendDue()).isZero();
      assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
      now = row().nextTryAt();
    }
    assertThat(row().attempts()).isGreaterThan(20);
    assertThat(sender.sendDue()).isEqualTo(1);
  }

  @Test
  void aReceiverThatIsRefusedForGoodEndsAsFailedForThemAloneAndCanBeSentAgain() {
    int port = start(builder());
    queue("a@tests.example");
    MailSender sender = plain(port);
    for (int tries = 1; tries <= 5; tries++) {
      moods.add(new RejectException(550, "5.1.1 nobody of this name"));
      assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
      sender.sendDue();
      assertThat(row().attempts()).isEqualTo(tries);
      now = now.plus(Duration.ofHours(1));
    }
    assertThat(row().state()).isEqualTo(Outbox.State.FAILED);
    assertThat(row().answer().orElse("")).contains("550", "nobody of this name");
    database.change(tx -> Outbox.again(tx, row().id()));
    assertThat(sender.sendDue()).isEqualTo(1);
  }

  @Test
  void oneRefusedMessageDoesNotHoldTheOthersUp() {
    int port = start(builder());
    for (int i = 0; i < 3; i++) queue(i + "@tests.example");
    moods.add(new RejectException(550, "5.1.1 nobody of this name"));
    assertThat(plain(port).sendDue()).isEqualTo(2);
    assertThat(taken).hasSize(2);
  }

  @Test
  void aLineThatBreaksAfterTheMessageBringsItTwiceUnderOneId() throws Exception {
    int port = start(builder());
    queue("a@tests.example");
    queue("b@tests.example");
    try (CuttingRelay relay = new CuttingRelay(port, 1, true)) {
      MailSender sender = plain(relay.port());
      // The line of the second message is a new one.
      assertThat(sender.sendDue()).isEqualTo(1);
      assertThat(taken).hasSize(2);
      now = now.plusSeconds(60);
      assertThat(sender.sendDue()).isEqualTo(1);
    }
    List<String> ids = new ArrayList<>();
    for (int i = 0; i < 3; i++) ids.add(message(i).getMessageID());
    assertThat(ids).containsExactly("<a@tests.example>", "<b@tests.example>", "<a@tests.example>");
    assertThat(rows()).extracting(Outbox.Message::state).containsOnly(Outbox.State.SENT);
  }

  @Test
  void aServerThatFallsSilentIsLeftAfterTheTimeThatItHas() throws Exception {
    timeout = Duration.ofMillis(300);
    int port = start(builder());
    queue("a@tests.example");
    try (CuttingRelay relay = new CuttingRelay(port, 1, false)) {
      MailSender sender = plain(relay.port());
      assertThat(sender.sendDue()).isZero();
      assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
      now = row().nextTryAt();
      assertThat(sender.sendDue()).isEqualTo(1);
    }
    assertThat(message(0).getMessageID()).isEqualTo(message(1).getMessageID());
  }

  @Test
  void aServerThatNeverSaysAWordIsLeftToo() throws Exception {
    timeout = Duration.ofMillis(300);
    try (ServerSocket mute = new ServerSocket(0, 10, InetAddress.getLoopbackAddress())) {
      queue("a@tests.example");
      queue("b@tests.example");
      assertThat(plain(mute.getLocalPort()).sendDue()).isZero();
    }
    assertThat(rows())
        .allSatisfy(
            r -> {
              assertThat(r.state()).isEqualTo(Outbox.State.QUEUED);
              assertThat(r.answer().orElse("")).contains("imed out");
            });
  }

  @Test
  void theHeadersSayWhatItIsAndNothingElseGetsIn() throws Exception {
    int port = start(builder());
    queue(
        "again@x\r\nX-Evil: 1",
        "one@tests.example",
        "Fell 2\r\nBcc: all@tests.example\r\n\r\n<b>2.1\u0085\u2028X-Evil: 2",
        "first@milewarden.invalid",
        "second@milewarden.invalid\r\nX-Evil: 3");
    assertThat(plain(port).sendDue()).isEqualTo(1);
    MimeMessage m = message(0);
    assertThat(m.getHeader("Bcc")).isNull();
    assertThat(m.getHeader("X-Evil")).isNull();
    assertThat(m.getAllRecipients()).hasSize(1);
    assertThat(m.getSubject()).startsWith("Fell 2 Bcc: all@tests.example <b>2.1");
    assertThat(m.getHeader("Auto-Submitted")).containsExactly("auto-generated");
    assertThat(m.getHeader("List-Id")).containsExactly("Milewarden alerts <alerts.tests.example>");
    assertThat(m.getHeader("In-Reply-To")).hasSize(1);
    assertThat(m.getHeader("References", null)).contains("<first@milewarden.invalid>");
    assertThat(m.getSentDate().toInstant()).isEqualTo(now);
    assertThat(m.getHeader("MIME-Version")).containsExactly("1.0");
  }

  @Test
  void anAddressThatIsNoneGoesNowhere() {
    int port = start(builder());
    queue("a@tests.example", "one@tests.example\r\nBcc: all@tests.example", "subject");
    assertThat(plain(port).sendDue()).isZero();
    assertThat(taken).isEmpty();
    assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
  }

  @Test
  void aMessageToNobodyIsKeptAsAFileAlsoWhereThereIsAServer() {
    int port = start(builder());
    database.change(
        tx ->
            Outbox.queue(tx, "a@x", Optional.empty(), "subject", "text", "<p>", Optional.empty()));
    assertThat(plain(port).sendDue()).isEqualTo(1);
    assertThat(taken).isEmpty();
    assertThat(row().answer().orElse("")).contains(".eml");
  }
}
