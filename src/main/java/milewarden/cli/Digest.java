package milewarden.cli;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** The name of a content: its SHA-256 (FIPS 180-4) in lower-case hexadecimal. */
final class Digest {
  private Digest() {}

  static String sha256(byte[] bytes) {
    return HexFormat.of().formatHex(sha().digest(bytes));
  }

  static MessageDigest sha() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}
