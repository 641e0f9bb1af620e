package milewarden.alert;

import jakarta.mail.MessagingException;
import jakarta.mail.SendFailedException;
import jakarta.mail.Session;
import jakarta.mail.Transport;
import java.util.Optional;
import java.util.Properties;
import org.eclipse.angus.mail.smtp.SMTPTransport;

/** A connection to the mail server. */
final class Post implements AutoCloseable {
  // More of a server's answer is no help.
  private static final int LONGEST_ANSWER = 500;

  private final Transport transport;

  private Post(Transport transport) {
    this.transport = transport;
  }

  static Session session(MailSettings.Server server) {
    Properties p = new Properties();
    String millis = Long.toString(server.timeout().toMillis());
    p.setProperty("mail.smtp.host", server.host());
    p.setProperty("mail.smtp.port", Integer.toString(server.port()));
    p.setProperty("mail.smtp.connectiontimeout", millis);
    p.setProperty("mail.smtp.timeout", millis);
    p.setProperty("mail.smtp.writetimeout", millis);
    p.setProperty("mail.smtp.ssl.checkserveridentity", "true");
    p.setProperty("mail.smtp.auth", Boolean.toString(server.login().isPresent()));
    switch (server.security()) {
      case STARTTLS -> {
        p.setProperty("mail.smtp.starttls.enable", "true");
        p.setProperty("mail.smtp.starttls.required", "true");
      }
      case TLS -> p.setProperty("mail.smtp.ssl.enable", "true");
      case NONE -> {}
    }
    return Session.getInstance(p);
  }

  static Post open(Session session, MailSettings.Server server) throws MessagingException {
    Transport transport = session.getTransport("smtp");
    Optional<MailSettings.Login> login = server.login();
    if (login.isPresent())
      transport.connect(server.host(), server.port(), login.get().user(), login.get().password());
    else transport.connect();
    return new Post(transport);
  }

  /** Sends a letter; the server's answer. */
  String send(Letter letter) throws MessagingException {
    transport.sendMessage(letter, letter.getAllRecipients());
    return transport instanceof SMTPTransport smtp
        ? shortened(String.valueOf(smtp.getLastServerResponse()))
        : "sent";
  }

  /** What went wrong, in the server's own words where it said any. */
  static String answer(Exception failure) {
    StringBuilder text = new StringBuilder(String.valueOf(failure.getMessage()));
    Exception next = failure;
    while (next instanceof MessagingException m && m.getNextException() != null) {
      next = m.getNextException();
      if (next instanceof SendFailedException || !(next instanceof MessagingException))
        text.append(" / ").append(next.getMessage());
    }
    return shortened(text.toString());
  }

  private static String shortened(String text) {
    String line = text.replaceAll("\\s+", " ").strip();
    return line.length() <= LONGEST_ANSWER ? line : line.substring(0, LONGEST_ANSWER);
  }

  @Override
  public void close() throws MessagingException {
    transport.close();
  }
}
