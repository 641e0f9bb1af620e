package milewarden.alert;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

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
    private static final Pattern BASE64 = Pattern.compile("[A-Za-z0-9+/]{4,}={0,2}");
    private static final String HIDDEN = "(not shown)";

    /**
     * A server's words without the password, also where the server repeats what was sent to it: as
     * it is, or in Base64 as the mechanisms LOGIN and PLAIN (RFC 4616) send it.
     */
    String hiddenIn(String words) {
      if (password.isBlank()) return words;
      return BASE64
          .matcher(words)
          .replaceAll(
              found -> Matcher.quoteReplacement(tells(found.group()) ? HIDDEN : found.group()))
          .replace(password, HIDDEN);
    }

    private boolean tells(String base64) {
      try {
        byte[] bytes = Base64.getDecoder().decode(base64);
        return new String(bytes, StandardCharsets.UTF_8).contains(password);
      } catch (IllegalArgumentException e) {
        return false;
      }
    }

    @Override
    public String toString() {
      return "Login[user=" + user + "]";
    }
  }
}
