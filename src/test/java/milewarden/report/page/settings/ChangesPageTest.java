package milewarden.report.page.settings;

import static org.assertj.core.api.Assertions.assertThat;

import milewarden.report.page.settings.ChangesPage.Line;
import milewarden.report.page.settings.ChangesPage.Piece;
import org.junit.jupiter.api.Test;

final class ChangesPageTest {
  // SHA-256 of the empty message (NIST, cryptographic algorithm validation: short messages, Len 0).
  private static final String CHECKSUM =
      "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";

  private static Line line(String words) {
    return new Line("", "", "", "", words);
  }

  @Test
  void aChecksumIsShownByItsFirstDigitsAndKeptWhole() {
    assertThat(line("version " + CHECKSUM + " from a.geojson").pieces())
        .containsExactly(
            new Piece("version ", "", false),
            new Piece("e3b0c44298fc", CHECKSUM.substring(12), true),
            new Piece(" from a.geojson", "", false));
  }

  @Test
  void aValueStandsApartFromTheWordsAboutIt() {
    assertThat(line("gait: `run`, before: `walk`").pieces())
        .extracting(Piece::text)
        .containsExactly("gait: ", "run", ", before: ", "walk", "");
  }
}
