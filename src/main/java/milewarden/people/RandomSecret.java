package milewarden.people;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.HexFormat;

/**
 * Secrets that the program makes: of cookies and of API tokens. They are 256 random bits, so what
 * is kept of them is a plain SHA-256: a slow hash guards what people think up and could be guessed;
 * nobody guesses 256 bits, however fast the hash.
 */
public final class RandomSecret {
  private static final int BYTES = 32;
  // Says to whoever finds one, and to scanners of leaked secrets, what it is.
  private static final String TOKEN = "mwt_";
  private static final SecureRandom RANDOM = new SecureRandom();

  private RandomSecret() {}

  public static String make() {
    byte[] bytes = new byte[BYTES];
    RANDOM.nextBytes(bytes);
    return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
  }

  /** One for an API token. */
  public static String makeToken() {
    return TOKEN + make();
  }

  /** What is kept of a secret. */
  public static String kept(String secret) {
    try {
      byte[] hash =
          MessageDigest.getInstance("SHA-256").digest(secret.getBytes(StandardCharsets.UTF_8));
      return HexFormat.of().formatHex(hash);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}
