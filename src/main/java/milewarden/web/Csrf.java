package milewarden.web;

import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.SameSite;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Base64;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import org.jspecify.annotations.Nullable;

/**
 * The token that every form carries against forged requests: a signed double-submit cookie (OWASP,
 * Cross-Site Request Forgery Prevention Cheat Sheet). The cookie holds a random name; the field
 * holds its keyed hash, so a cookie planted from another port of this host fits no field. Nothing
 * is kept on the server; the key lives as long as the program.
 */
final class Csrf {
  static final String FIELD = "csrf";
  static final String HEADER = "X-CSRF-Token";
  static final String COOKIE = "milewarden-form";

  private static final String ATTRIBUTE = "milewarden.csrf";
  private static final int BYTES = 24;
  private static final String MAC = "HmacSHA256";
  private static final SecureRandom RANDOM = new SecureRandom();
  private static final SecretKeySpec KEY = new SecretKeySpec(random(), MAC);

  private Csrf() {}

  /** The token for the forms of this answer; gives the reader a cookie if there is none. */
  static String token(Context http) {
    String known = http.cookie(COOKIE);
    if (known == null || known.isBlank()) known = http.attribute(ATTRIBUTE);
    if (known == null) {
      known = Base64.getUrlEncoder().withoutPadding().encodeToString(random());
      http.attribute(ATTRIBUTE, known);
      http.cookie(cookie(known));
    }
    return sign(known);
  }

  /** True where the request carries the token that belongs to its cookie. */
  static boolean holds(Context http) {
    String known = http.cookie(COOKIE);
    String given = http.header(HEADER);
    if (given == null) given = http.formParam(FIELD);
    return known != null && fits(known, given);
  }

  private static boolean fits(String known, @Nullable String given) {
    return given != null
        && MessageDigest.isEqual(
            sign(known).getBytes(StandardCharsets.US_ASCII),
            given.getBytes(StandardCharsets.UTF_8));
  }

  // Lax and not Strict: a reader who follows a link of an e-mail would bring no cookie, get a new
  // one, and with it break the forms of every page that is already open. Lax cookies do not travel
  // with a forged POST either. Not 'secure': the server speaks plain HTTP on the loopback address.
  private static Cookie cookie(String value) {
    return new Cookie(COOKIE, value, "/", -1, false, true, null, SameSite.LAX);
  }

  private static String sign(String text) {
    try {
      Mac mac = Mac.getInstance(MAC);
      mac.init(KEY);
      byte[] hash = mac.doFinal(text.getBytes(StandardCharsets.UTF_8));
      return Base64.getUrlEncoder().withoutPadding().encodeToString(hash);
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java platform has " + MAC, e);
    }
  }

  private static byte[] random() {
    byte[] bytes = new byte[BYTES];
    RANDOM.nextBytes(bytes);
    return bytes;
  }
}
