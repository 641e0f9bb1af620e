package milewarden.alert;

import jakarta.activation.DataHandler;
import jakarta.mail.Message.RecipientType;
import jakarta.mail.MessagingException;
import jakarta.mail.Part;
import jakarta.mail.Session;
import jakarta.mail.internet.InternetAddress;
import jakarta.mail.internet.MimeBodyPart;
import jakarta.mail.internet.MimeMessage;
import jakarta.mail.internet.MimeMultipart;
import jakarta.mail.util.ByteArrayDataSource;
import java.nio.charset.StandardCharsets;
import java.util.Date;
import java.util.List;
import java.util.Optional;
import milewarden.store.told.Outbox;

/**
 * A message of the outbox as Internet mail (RFC 5322): text and HTML as alternatives, the picture
 * inline beside the HTML, which names it by {@link #PICTURE}.
 */
final class Letter extends MimeMessage {
  /** The picture's name in the HTML, behind {@code cid:}. */
  static final String PICTURE = "chart@milewarden";

  private final String messageId;

  private Letter(Session session, String messageId) {
    super(session);
    this.messageId = messageId;
  }

  static Letter of(
      Session session, MailSettings settings, Outbox.Message row, Optional<byte[]> picture)
      throws MessagingException {
    Letter letter = new Letter(session, id(row.messageId()));
    letter.setFrom(new InternetAddress(settings.from()));
    List<String> receivers = row.recipient().map(List::of).orElse(settings.to());
    for (String to : receivers)
      letter.addRecipient(RecipientType.TO, new InternetAddress(to, true));
    if (receivers.isEmpty()) letter.setHeader("To", "undisclosed-recipients:;");
    letter.setSubject(oneLine(row.subject()), StandardCharsets.UTF_8.name());
    // The day of the decision: a message that is sent again is the same message.
    letter.setSentDate(Date.from(row.createdAt()));
    // RFC 3834, section 5: no holiday notes back, please.
    letter.setHeader("Auto-Submitted", "auto-generated");
    // RFC 2919: a name by which mail programs sort it, under the sender's own domain.
    letter.setHeader("List-Id", "Milewarden alerts <alerts." + domain(settings.from()) + ">");
    if (!row.earlier().isEmpty()) {
      // RFC 5322, section 3.6.4: one thread with what was told of the same before.
      List<String> earlier = row.earlier().stream().map(Letter::id).toList();
      letter.setHeader("In-Reply-To", earlier.get(earlier.size() - 1));
      letter.setHeader("References", String.join("\r\n ", earlier));
    }
    letter.setContent(content(row, picture));
    letter.saveChanges();
    return letter;
  }

  private static MimeMultipart content(Outbox.Message row, Optional<byte[]> picture)
      throws MessagingException {
    MimeBodyPart text = new MimeBodyPart();
    text.setText(row.text(), StandardCharsets.UTF_8.name());
    MimeBodyPart html = new MimeBodyPart();
    html.setText(row.html(), StandardCharsets.UTF_8.name(), "html");
    MimeMultipart both = new MimeMultipart("alternative");
    both.addBodyPart(text);
    both.addBodyPart(picture.isPresent() ? related(html, picture.get()) : html);
    return both;
  }

  private static MimeBodyPart related(MimeBodyPart html, byte[] png) throws MessagingException {
    MimeBodyPart image = new MimeBodyPart();
    image.setDataHandler(new DataHandler(new ByteArrayDataSource(png, "image/png")));
    image.setContentID("<" + PICTURE + ">");
    image.setDisposition(Part.INLINE);
    image.setFileName("chart.png");
    MimeMultipart together = new MimeMultipart("related");
    together.addBodyPart(html);
    together.addBodyPart(image);
    MimeBodyPart part = new MimeBodyPart();
    part.setContent(together);
    return part;
  }

  /** The row's id, however often the message is built. */
  @Override
  protected void updateMessageID() throws MessagingException {
    setHeader("Message-ID", messageId);
  }

  private static String domain(String address) {
    String domain = address.substring(address.lastIndexOf('@') + 1);
    return domain.replaceAll("[^A-Za-z0-9.-]", "");
  }

  // RFC 5322, msg-id: between angle brackets, and no more of a header than that.
  private static String id(String text) {
    String bare = text.replaceAll("[^A-Za-z0-9.!#$%&'*+/=?^_`{|}~@-]", "");
    return "<" + (bare.contains("@") ? bare : bare + "@milewarden") + ">";
  }

  // A line break in a subject would begin a header of somebody else's choice.
  private static String oneLine(String text) {
    return text.replaceAll("[\\p{Cntrl}\\u2028\\u2029]+", " ").strip();
  }
}
