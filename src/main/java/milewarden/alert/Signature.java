package milewarden.alert;

import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.util.HexFormat;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/** The signature of a post: HMAC-SHA256 (RFC 2104) over time and body. */
final class Signature {
  private static final String MAC = "HmacSHA256";

  private Signature() {}

  /** In hexadecimal digits, of the seconds since 1970, a full stop, and the body. */
  static String of(String secret, long seconds, String body) {
    byte[] text = (seconds + "." + body).getBytes(StandardCharsets.UTF_8);
    return HexFormat.of().formatHex(hmac(secret.getBytes(StandardCharsets.UTF_8), text));
  }

  static byte[] hmac(byte[] key, byte[] text) {
    try {
      Mac mac = Mac.getInstance(MAC);
      mac.init(new SecretKeySpec(key, MAC));
      return mac.doFinal(text);
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java platform has " + MAC, e);
    }
  }
}
