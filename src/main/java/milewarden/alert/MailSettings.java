package milewarden.alert;

import java.time.Duration;
import java.util.List;
import java.util.Optional;

/**
 * How messages leave.
 *
 * @param server empty: messages are kept as files
 * @param from the sender's address
 * @param to the receivers' addresses; at least one where there is a server
 * @param firstRetry how long after a first failure the next try comes; it doubles from then on
 * @param longestRetry the longest pause between two tries
 */
public record MailSettings(
    Optional<Server> server,
    String from,
    List<String> to,
    Duration firstRetry,
    Duration longestRetry) {
  public MailSettings {
    to = List.copyOf(to);
    if (server.isPresent() && to.isEmpty())
      throw new IllegalArgumentException("a mail server and nobody to write to");
  }

  /** How the connection is kept private. */
  public enum Security {
    STARTTLS,
    TLS,
    NONE
  }

  /**
   * A mail server.
   *
   * @param timeout for connecting, reading and writing, each
   */
  public record Server(
      String host, int port, Security security, Optional<Login> login, Duration timeout) {}

  /** Who logs in; the password is never printed. */
  public record Login(String user, String password) {
    @Override
    public String toString() {
      return "Login[user=" + user + "]";
    }
  }
}
