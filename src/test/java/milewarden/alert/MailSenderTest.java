package milewarden.alert;

import static org.assertj.core.api.Assertions.assertThat;

import com.icegreen.greenmail.configuration.GreenMailConfiguration;
import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.BodyPart;
import jakarta.mail.Session;
import jakarta.mail.internet.MimeMessage;
import jakarta.mail.internet.MimeMultipart;
import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import java.util.stream.Stream;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.told.Outbox;
import milewarden.store.told.Sending;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Against a mail server of a general-purpose library, and its reader of messages. */
final class MailSenderTest {
  private static final byte[] PNG = {(byte) 0x89, 'P', 'N', 'G', 1, 2, 3};
  private static final ServerSetup ANY_PORT =
      new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP);

  @TempDir Path data;
  private Instant now = Instant.parse("2026-05-12T07:00:00Z");
  private Database database;
  private GreenMail server = new GreenMail(ANY_PORT);

  @BeforeEach
  void open() {
    database = Database.open(StoreSettings.in(data), () -> now);
  }

  @AfterEach
  void close() {
    server.stop();
    database.close();
  }

  private MailSender sender(Optional<MailSettings.Server> to) {
    MailSettings settings =
        new MailSettings(
            to,
            "watch@tests.example",
            List.of("one@tests.example", "two@tests.example"),
            Duration.ofMinutes(1),
            Duration.ofHours(1));
    return new MailSender(database, settings, data.resolve("outbox"));
  }

  private Optional<MailSettings.Server> at(int port, Optional<MailSettings.Login> login) {
    return Optional.of(
        new MailSettings.Server(
            "127.0.0.1",
            port,
            MailSettings.Security.NONE,
            login,
            Duration.ofSeconds(10),
            Optional.empty()));
  }

  private Optional<MailSettings.Server> secured(int port, MailSettings.Security security) {
    return Optional.of(
        new MailSettings.Server(
            "127.0.0.1",
            port,
            security,
            Optional.empty(),
            Duration.ofSeconds(10),
            Optional.empty()));
  }

  private void queue(String id, String subject) {
    database.change(
        tx ->
            Outbox.queue(
                tx,
                id,
                Optional.empty(),
                subject,
                "Näher am Ziel: −1.2 %",
                "<p>Näher <img src=\"cid:chart@milewarden\"></p>",
                Optional.of(PNG)));
  }

  private Outbox.Message row() {
    return database.read(tx -> Outbox.page(tx, Optional.empty(), 10)).get(0);
  }

  private List<Path> files() throws Exception {
    try (Stream<Path> all = Files.list(data.resolve("outbox"))) {
      return all.toList();
    }
  }

  private static MimeMessage read(Path file) throws Exception {
    return new MimeMessage(
        Session.getInstance(new Properties()), new ByteArrayInputStream(Files.readAllBytes(file)));
  }

  private static void holdsEverything(MimeMessage message) throws Exception {
    assertThat(message.getHeader("Auto-Submitted")).containsExactly("auto-generated");
    MimeMultipart both = (MimeMultipart) message.getContent();
    assertThat(both.getContentType()).startsWith("multipart/alternative");
    assertThat(both.getBodyPart(0).getContent()).isEqualTo("Näher am Ziel: −1.2 %");
    MimeMultipart related = (MimeMultipart) both.getBodyPart(1).getContent();
    assertThat(related.getContentType()).startsWith("multipart/related");
    assertThat(related.getBodyPart(0).getContentType()).startsWith("text/html");
    assertThat((String) related.getBodyPart(0).getContent()).contains("cid:chart@milewarden");
    BodyPart picture = related.getBodyPart(1);
    assertThat(picture.getHeader("Content-ID")).containsExactly("<chart@milewarden>");
    assertThat(picture.getDisposition()).isEqualTo("inline");
    assertThat(picture.getInputStream().readAllBytes()).isEqualTo(PNG);
  }

  @Test
  void aMessageIsSentToEveryoneWithTextHtmlAndPicture() throws Exception {
    server.start();
    queue("<due-1@milewarden>", "Quorvane 2.1.0: zu weit um 1.3 %");
    assertThat(sender(at(server.getSmtp().getPort(), Optional.empty())).sendDue()).isEqualTo(1);
    MimeMessage[] received = server.getReceivedMessages();
    assertThat(received).hasSize(2);
    assertThat(received[0].getSubject()).isEqualTo("Quorvane 2.1.0: zu weit um 1.3 %");
    assertThat(received[0].getHeader("Message-ID")).containsExactly("<due-1@milewarden>");
    assertThat(received[0].getFrom()[0]).hasToString("watch@tests.example");
    holdsEverything(received[0]);
    assertThat(row().state()).isEqualTo(Outbox.State.SENT);
    assertThat(row().answer().orElse("")).startsWith("250");
  }

  @Test
  void aMessageIsSentOnce() {
    server.start();
    queue("due-1@milewarden", "once");
    MailSender sender = sender(at(server.getSmtp().getPort(), Optional.empty()));
    sender.sendDue();
    now = now.plus(Duration.ofDays(1));
    assertThat(sender.sendDue()).isZero();
    assertThat(server.getReceivedMessages()).hasSize(2);
  }

  @Test
  void aServerThatRefusesTheLoginIsTriedAgainAndItsAnswerKept() {
    server =
        server.withConfiguration(
            GreenMailConfiguration.aConfig().withUser("teller@tests.example", "teller", "right"));
    server.start();
    queue("due-1@milewarden", "secret");
    int port = server.getSmtp().getPort();
    MailSettings.Login wrong = new MailSettings.Login("teller", "wrong");
    assertThat(sender(at(port, Optional.of(wrong))).sendDue()).isZero();
    assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
    assertThat(row().attempts()).isEqualTo(1);
    assertThat(row().nextTryAt()).isEqualTo(now.plus(Duration.ofMinutes(1)));
    assertThat(row().answer().orElse("")).contains("535");
    now = now.plus(Duration.ofMinutes(1));
    MailSettings.Login right = new MailSettings.Login("teller", "right");
    assertThat(sender(at(port, Optional.of(right))).sendDue()).isEqualTo(1);
    assertThat(server.getReceivedMessages()).hasSize(2);
  }

  @Test
  void nothingIsSentInTheClearWhereStartTlsIsAskedForAndNotOffered() {
    server.start();
    queue("due-1@milewarden", "not in the clear");
    MailSender sender = sender(secured(server.getSmtp().getPort(), MailSettings.Security.STARTTLS));
    assertThat(sender.sendDue()).isZero();
    assertThat(server.getReceivedMessages()).isEmpty();
    assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
    assertThat(row().answer().orElse("")).contains("STARTTLS");
  }

  @Test
  void aServerWhoseCertificateNobodyVouchesForGetsNothing() {
    ServerSetup setup = ServerSetup.SMTPS.dynamicPort();
    // Its keys are made at its start: 2 s are too few on a machine under load.
    setup.setServerStartupTimeout(60_000);
    server = new GreenMail(setup);
    server.start();
    queue("due-1@milewarden", "not to strangers");
    MailSender sender = sender(secured(server.getSmtps().getPort(), MailSettings.Security.TLS));
    assertThat(sender.sendDue()).isZero();
    assertThat(server.getReceivedMessages()).isEmpty();
    assertThat(row().state()).isEqualTo(Outbox.State.QUEUED);
    assertThat(row().answer().orElse("")).containsIgnoringCase("certif");
  }

  @Test
  void aServerThatIsDownDelaysAndNeverLosesAndTheMessageIdStays() throws Exception {
    server.start();
    int port = server.getSmtp().getPort();
    server.stop();
    queue("due-1@milewarden", "late");
    MailSender sender = sender(at(port, Optional.empty()));
    Duration waited = Duration.ZERO;
    for (int failures = 1; failures <= 3; failures++) {
      assertThat(sender.sendDue()).isZero();
      assertThat(row().attempts()).isEqualTo(failures);
      // Not before its time.
      assertThat(sender.sendDue()).isZero();
      assertThat(row().attempts()).isEqualTo(failures);
      Duration pause = Duration.between(now, row().nextTryAt());
      assertThat(pause).isEqualTo(Duration.ofMinutes(1L << (failures - 1)));
      waited = waited.plus(pause);
      now = row().nextTryAt();
    }
    server = new GreenMail(new ServerSetup(port, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
    server.start();
    assertThat(sender.sendDue()).isEqualTo(1);
    database.change(tx -> Outbox.again(tx, row().id()));
    assertThat(sender.sendDue()).isEqualTo(1);
    assertThat(server.getReceivedMessages())
        .hasSize(4)
        .allSatisfy(
            m -> assertThat(m.getHeader("Message-ID")).containsExactly("<due-1@milewarden>"));
  }

  /** Its clock is moved from try to try: a whole day of them. */
  @Test
  void aServerThatIsDownForADayGetsEveryMessageOnceWhenItIsBack() throws Exception {
    server.start();
    int port = server.getSmtp().getPort();
    server.stop();
    MailSender sender = sender(at(port, Optional.empty()));
    Instant back = now.plus(Duration.ofDays(1));
    List<String> ids = new ArrayList<>();
    int tries = 0;
    while (now.isBefore(back)) {
      // Decisions go on while nobody takes mail.
      if (ids.size() < 5) {
        ids.add("due-" + ids.size() + "@milewarden");
        queue(ids.get(ids.size() - 1), "late " + ids.size());
      }
      assertThat(sender.sendDue()).isZero();
      tries++;
      now = database.read(tx -> Sending.nextTry(tx)).orElseThrow();
    }
    // Hourly in the end, by each of five messages: neither given up nor hammered.
    assertThat(tries).isBetween(24, 5 * 40);
    server = new GreenMail(new ServerSetup(port, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
    server.start();
    now = now.plus(Duration.ofHours(1));
    assertThat(sender.sendDue()).isEqualTo(5);
    assertThat(sender.sendDue()).isZero();
    List<String> arrived = new ArrayList<>();
    for (MimeMessage message : server.getReceivedMessages()) arrived.add(message.getMessageID());
    // To two receivers each.
    assertThat(arrived).hasSize(10);
    assertThat(arrived.stream().distinct().map(i -> i.replaceAll("[<>]", "")))
        .containsExactlyInAnyOrderElementsOf(ids);
    int sent = database.read(tx -> Outbox.count(tx, Outbox.State.SENT));
    assertThat(sent).isEqualTo(5);
    assertThat(milewarden.store.keep.StoreCheck.check(StoreSettings.in(data), () -> now).findings())
        .isEmpty();
  }

  @Test
  void withoutAServerEachMessageIsOneFileHoweverOftenItIsWritten() throws Exception {
    queue("due-1@milewarden", "kept");
    MailSender sender = sender(Optional.empty());
    assertThat(sender.sendDue()).isEqualTo(1);
    assertThat(row().answer().orElse("")).contains(".eml");
    database.change(tx -> Outbox.again(tx, row().id()));
    assertThat(sender.sendDue()).isEqualTo(1);
    assertThat(files()).singleElement().asString().endsWith(".eml");
    MimeMessage message = read(files().get(0));
    assertThat(message.getHeader("Message-ID")).containsExactly("<due-1@milewarden>");
    assertThat(message.getSentDate().toInstant()).isEqualTo(now);
    holdsEverything(message);
  }

  @Test
  void aSubjectCanNotBringInAHeader() throws Exception {
    queue("a@b>\r\nX-Evil: 1\r\n", "Quorvane\r\nBcc: all@tests.example\n\nbody");
    sender(Optional.empty()).sendDue();
    MimeMessage message = read(files().get(0));
    assertThat(message.getHeader("Bcc")).isNull();
    assertThat(message.getHeader("X-Evil")).isNull();
    assertThat(message.getSubject()).isEqualTo("Quorvane Bcc: all@tests.example body");
    String head =
        Files.readString(files().get(0), StandardCharsets.ISO_8859_1).split("\r\n\r\n", 2)[0];
    assertThat(head).doesNotContain("\r\nX-Evil").doesNotContain("\r\nBcc");
  }
}
