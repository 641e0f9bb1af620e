package milewarden.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Factors of units against NIST SP 811, appendix B, and the rules of the sport. */
final class UnitsTest {
  @Test
  void milesAndFeetAreTheExactInternationalOnes() {
    // NIST SP 811 (2008), appendix B.8: exact.
    assertThat(LengthUnit.MILE.metres()).isEqualTo(1609.344);
    assertThat(LengthUnit.FOOT.metres()).isEqualTo(0.3048);
    assertThat(LengthUnit.KILOMETRE.metres()).isEqualTo(1000);
    assertThat(LengthUnit.METRE.metres()).isEqualTo(1);
    // 5,280 feet make a mile.
    assertThat(5280 * LengthUnit.FOOT.metres()).isCloseTo(LengthUnit.MILE.metres(), within(1e-9));
    // A mile taken for 1,609 m is 214 parts in a million short.
    assertThat(1e6 * (1 - 1609 / LengthUnit.MILE.metres())).isCloseTo(213.75, within(0.01));
  }

  @Test
  void aFootIsTheInternationalOneAndNotThatOfOldSurveys() {
    // NIST SP 811 (2008), appendix B.6: the US survey foot is 1200/3937 m exactly; deprecated from
    // 2023 on (Federal Register 85 FR 62698, from memory). Two parts in a million: 3.2 mm in a
    // mile.
    double survey = 1200.0 / 3937;
    assertThat(survey).isCloseTo(0.304800609601219, within(1e-15));
    assertThat(Length.parse("5280 ft").orElseThrow().metres()).isCloseTo(1609.344, within(1e-9));
    assertThat(5280 * survey - LengthUnit.MILE.metres()).isCloseTo(0.003219, within(5e-7));
    assertThat(1e6 * (survey / LengthUnit.FOOT.metres() - 1)).isCloseTo(2.0, within(1e-3));
    // Who names the other foot is not silently taken for this one.
    for (String other : new String[] {"ftUS", "us-ft", "sft", "survey foot", "US survey feet"})
      assertThat(LengthUnit.of(other)).as(other).isEmpty();
    assertThat(Length.parse("5280 ftUS")).isEmpty();
  }

  @Test
  void aMarathonIsNotTwentySixMilesAndThreeHundredAndEightyFiveYards() {
    // World Athletics: 42,195 m exactly; 26 mi 385 yd are 12 mm less.
    double yards = 26 * LengthUnit.MILE.metres() + 385 * 3 * LengthUnit.FOOT.metres();
    assertThat(yards).isCloseTo(42_194.988, within(5e-4));
  }

  @Test
  void aCommaIsAPointButWhereItCouldPartThousands() {
    assertThat(Length.parse("400,5 m")).contains(new Length(400.5));
    assertThat(Length.parse("0,25 km")).contains(new Length(250));
    assertThat(Length.parse("1,6093 km").orElseThrow().metres()).isCloseTo(1609.3, within(1e-9));
    assertThat(Length.parse("1,609 m")).isEmpty();
    assertThat(Length.parse("1,609.3 m")).isEmpty();
  }
}
