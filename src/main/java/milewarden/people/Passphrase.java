package milewarden.people;

import com.password4j.Argon2Function;
import com.password4j.types.Argon2;
import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.text.Normalizer;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Semaphore;

/**
 * Passphrases: which are taken, and how they are kept: as Argon2id in the PHC string format, which
 * names its own parameters, so that these can be raised later.
 *
 * @see "RFC 9106, Argon2 Memory-Hard Function for Password Hashing"
 */
public final class Passphrase {
  // NIST SP 800-63B-4 (2025) section 3.1.1.2: 15 characters where nothing else is asked,
  // 64 and more to be allowed, Unicode in Normalization Form C, no rules of composition.
  private static final int SHORTEST = 15;
  private static final int LONGEST = 256;
  // Common practice, no source: 'aaaaaaaaaaaaaaa' is none.
  private static final int FEWEST_DIFFERENT = 5;

  // OWASP Password Storage Cheat Sheet, Argon2id: 19 MiB, 2 iterations, 1 lane, the least of its
  // equal choices in memory: the server is meant to do with a heap of 256 MiB.
  private static final int MEMORY_KIB = 19_456;
  private static final int ITERATIONS = 2;
  private static final int LANES = 1;
  // RFC 9106 section 4: a tag of 256 bits and a salt of 128.
  private static final int TAG_BYTES = 32;
  private static final int SALT_BYTES = 16;

  private static final SecureRandom RANDOM = new SecureRandom();
  // Each needs its memory: at most two at once, the others wait their turn.
  private static final Semaphore AT_ONCE = new Semaphore(2, true);
  private static final String NOBODYS = hash(RandomSecret.make());

  private Passphrase() {}

  /** Why it is not taken, in a sentence; empty where it is. */
  public static Optional<String> refusal(String passphrase, PersonName name) {
    String text = plain(passphrase);
    int length = text.codePointCount(0, text.length());
    if (length < SHORTEST)
      return Optional.of(
          "A passphrase has at least " + SHORTEST + " characters: take four or five words.");
    if (length > LONGEST)
      return Optional.of("A passphrase may have " + LONGEST + " characters at most.");
    if (text.codePoints().distinct().count() < FEWEST_DIFFERENT)
      return Optional.of("This passphrase repeats itself: take four or five words.");
    String rest = text.toLowerCase(Locale.ROOT).replace(name.key(), "").replace("milewarden", "");
    if (rest.length() < SHORTEST / 2)
      return Optional.of("This passphrase is little more than a name: take four or five words.");
    return Optional.empty();
  }

  /** The text that is kept; another one each time. */
  public static String hash(String passphrase) {
    byte[] salt = new byte[SALT_BYTES];
    RANDOM.nextBytes(salt);
    Argon2Function argon2 =
        Argon2Function.getInstance(MEMORY_KIB, ITERATIONS, LANES, TAG_BYTES, Argon2.ID);
    return alone(() -> argon2.hash(bytes(passphrase), salt).getResult());
  }

  /** True where this is the passphrase of which {@code kept} was made. */
  public static boolean fits(String passphrase, String kept) {
    return alone(
        () ->
            Argon2Function.getInstanceFromHash(kept)
                .check(bytes(passphrase), kept.getBytes(StandardCharsets.US_ASCII)));
  }

  /** Takes as long as {@link #fits} and is always false: a name that is not known. */
  public static boolean fitsNobody(String passphrase) {
    fits(passphrase, NOBODYS);
    return false;
  }

  /** True where it was kept by lesser parameters than are used now. */
  public static boolean isOutdated(String kept) {
    Argon2Function by = Argon2Function.getInstanceFromHash(kept);
    return by.getMemory() < MEMORY_KIB || by.getIterations() < ITERATIONS;
  }

  private static <T> T alone(java.util.function.Supplier<T> work) {
    AT_ONCE.acquireUninterruptibly();
    try {
      return work.get();
    } finally {
      AT_ONCE.release();
    }
  }

  // Whatever its length, what is hashed is bounded: refusal() is asked before, log-ins are not.
  private static byte[] bytes(String passphrase) {
    String text = plain(passphrase);
    return text.substring(0, Math.min(text.length(), 4 * LONGEST)).getBytes(StandardCharsets.UTF_8);
  }

  private static String plain(String passphrase) {
    return Normalizer.normalize(passphrase, Normalizer.Form.NFC);
  }
}
