package milewarden.alert;

import jakarta.mail.MessagingException;
import jakarta.mail.SendFailedException;
import jakarta.mail.Session;
import jakarta.mail.Transport;
import java.io.IOException;
import java.util.Optional;
import java.util.Properties;
import org.eclipse.angus.mail.smtp.SMTPAddressFailedException;
import org.eclipse.angus.mail.smtp.SMTPSendFailedException;
import org.eclipse.angus.mail.smtp.SMTPTransport;

/** A connection to the mail server. */
final class Post implements AutoCloseable {
  // More of a server's answer is no help.
  private static final int LONGEST_ANSWER = 500;

  private final MailSettings.Server server;
  private final Session session;
  private final Transport transport;

  private Post(MailSettings.Server server, Session session, Transport transport) {
    this.server = server;
    this.session = session;
    this.transport = transport;
  }

  private static Session newSession(MailSettings.Server server) throws IOException {
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
    // A server that goes before it was said goodbye to has taken the message all the same.
    p.setProperty("mail.smtp.quitwait", "false");
    if (server.trusted().isPresent()) {
      p.put("mail.smtp.ssl.socketFactory", Certificates.trusting(server.trusted().get()));
      // These certificates and no others: not the usual authorities after them.
      p.setProperty("mail.smtp.socketFactory.fallback", "false");
    }
    return Session.getInstance(p);
  }

  static Post open(MailSettings.Server server) throws MessagingException, IOException {
    Session session = newSession(server);
    Post post = new Post(server, session, session.getTransport("smtp"));
    post.connect();
    return post;
  }

  Session session() {
    return session;
  }

  private void connect() throws MessagingException {
    Optional<MailSettings.Login> login = server.login();
    if (login.isPresent())
      transport.connect(server.host(), server.port(), login.get().user(), login.get().password());
    else transport.connect();
  }

  /** Sends a letter; the server's answer. */
  String send(Letter letter) throws MessagingException {
    // The message before may have cost the connection.
    if (!transport.isConnected()) connect();
    transport.sendMessage(letter, letter.getAllRecipients());
    return transport instanceof SMTPTransport smtp
        ? told(String.valueOf(smtp.getLastServerResponse()), server.login())
        : "sent";
  }

  /** What went wrong, in the server's own words where it said any, without our password. */
  static String answer(Exception failure, Optional<MailSettings.Login> login) {
    StringBuilder text = new StringBuilder(String.valueOf(failure.getMessage()));
    Exception next = failure;
    while (next instanceof MessagingException m && m.getNextException() != null) {
      next = m.getNextException();
      if (next instanceof SendFailedException || !(next instanceof MessagingException))
        text.append(" / ").append(next.getMessage());
    }
    return told(text.toString(), login);
  }

  /**
   * True where the server said of the message or its receiver that it never will be taken (RFC
   * 5321, section 4.2.1: 5yz). A refused login is not that: it is put right in the configuration.
   */
  static boolean isRefusal(Exception failure) {
    Exception next = failure;
    while (next != null) {
      if (next instanceof SMTPAddressFailedException a) return a.getReturnCode() / 100 == 5;
      if (next instanceof SMTPSendFailedException s && s.getReturnCode() / 100 == 4) return false;
      if (!(next instanceof MessagingException m)) return false;
      if (m.getNextException() == null)
        return next instanceof SMTPSendFailedException s && s.getReturnCode() / 100 == 5;
      next = m.getNextException();
    }
    return false;
  }

  private static String told(String text, Optional<MailSettings.Login> login) {
    // Hidden before it is cut: half a password is one, too.
    String line =
        login.map(l -> l.hiddenIn(text)).orElse(text).replaceAll("[\\s\\p{Cntrl}]+", " ").strip();
    return line.length() <= LONGEST_ANSWER ? line : line.substring(0, LONGEST_ANSWER);
  }

  @Override
  public void close() throws MessagingException {
    transport.close();
  }
}
