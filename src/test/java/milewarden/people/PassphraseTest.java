package milewarden.people;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

final class PassphraseTest {
  private static final String WORDS = "meadow kettle ninety lantern";

  /**
   * The reference implementation's own tests (P-H-C/phc-winner-argon2, src/test.c, Argon2id,
   * version 0x13).
   */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc",
        "$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4"
      })
  void whatTheReferenceImplementationKeptOfPasswordFits(String kept) {
    assertThat(Passphrase.fits("password", kept)).isTrue();
    assertThat(Passphrase.fits("passwore", kept)).isFalse();
  }

  @Test
  void whatIsKeptFitsItsPassphraseAloneAndIsAnotherTextEachTime() {
    String kept = Passphrase.hash(WORDS);
    assertThat(kept).startsWith("$argon2id$v=19$m=19456,t=2,p=1$").doesNotContain("meadow");
    assertThat(Passphrase.hash(WORDS)).isNotEqualTo(kept);
    assertThat(Passphrase.fits(WORDS, kept)).isTrue();
    assertThat(Passphrase.fits(WORDS + " ", kept)).isFalse();
    assertThat(Passphrase.fits("", kept)).isFalse();
    assertThat(Passphrase.fitsNobody(WORDS)).isFalse();
    assertThat(Passphrase.isOutdated(kept)).isFalse();
    assertThat(
            Passphrase.isOutdated(
                "$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4"))
        .isTrue();
  }

  /** One passphrase, typed composed and decomposed (Unicode Standard Annex 15). */
  @Test
  void aLetterThatIsTypedInTwoSignsIsTheSameLetter() {
    String kept = Passphrase.hash("vier gr\u00fcne Laternen");
    assertThat(Passphrase.fits("vier gru\u0308ne Laternen", kept)).isTrue();
  }

  @Test
  void shortOnesNamesAndRepetitionsAreNotTaken() {
    PersonName name = PersonName.of("Ada Marlowe");
    assertThat(Passphrase.refusal(WORDS, name)).isEmpty();
    assertThat(Passphrase.refusal("fourteen chars", name).orElseThrow()).contains("15");
    assertThat(Passphrase.refusal("aaaaaaaaaaaaaaaaaaaa", name)).isPresent();
    assertThat(Passphrase.refusal("ada marlowe ada marlowe 1", name)).isPresent();
    assertThat(Passphrase.refusal("x".repeat(300), name)).isPresent();
    // NIST SP 800-63B-4 section 3.1.1.2: at least 64 characters are to be allowed.
    assertThat(Passphrase.refusal("meadow kettle ".repeat(5), name)).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "  ",
        "a\nb",
        "a\r\nBcc: b@example.org",
        "a\u0000b",
        "a\u202eb",
        "a\u200bb",
        "../etc/passwd",
        "a/b",
        "a\\b",
        "<b>",
        "a\"b",
        "CON:",
        "x@y"
      })
  void aNameHoldsNothingThatTurnsBreaksOrHides(String given) {
    assertThat(PersonName.refusal(given)).isPresent();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"Ada", "J\u00f6rg O'Neill-Brandt", "\u5c71\u7530 \u592a\u90ce", "ada.m_2"})
  void namesOfPeopleAreNames(String given) {
    assertThat(PersonName.refusal(given)).isEmpty();
    assertThat(PersonName.of(" " + given + " ").key()).isEqualTo(PersonName.of(given).key());
  }
}
