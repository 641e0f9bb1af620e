package milewarden.alert;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;

/**
 * How messages leave.
 *
 * @param server empty: messages are kept as files
 * @param from the sender's address
 * @param to receivers of messages that name none themselves; kept as files where empty
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
   * @param trusted file of certificates to trust instead of the usual authorities
   */
  public record Server(
      String host,
      int port,
      Security security,
      Optional<Login> login,
      Duration timeout,
      Optional<Path> trusted) {}

  /** Who logs in; the password is never printed. */
  public record Login(String user, String password) {
    @Override
    public String toString() {
      return "Login[user=" + user + "]";
    }
  }
}
