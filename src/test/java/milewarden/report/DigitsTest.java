package milewarden.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.text.NumberFormat;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Locale;
import java.util.Random;
import milewarden.units.LengthRange;
import milewarden.units.LengthUnit;
import milewarden.units.PercentRange;
import milewarden.units.UnitChoice;
import org.junit.jupiter.api.Test;

final class DigitsTest {
  private static final Locale TURKISH = Locale.forLanguageTag("tr-TR");
  private final Digits metric = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);
  private final Digits imperial = Digits.of(UnitChoice.IMPERIAL, Locale.US, ZoneOffset.UTC);

  private static String plain(String text) {
    return text.replace('\u00a0', ' ');
  }

  @Test
  void anErrorAlwaysCarriesItsSignWithTheTrueMinus() {
    assertThat(metric.percent(1.84)).isEqualTo("+1.8\u00a0%");
    assertThat(metric.percent(-0.31)).isEqualTo("\u22120.3\u00a0%");
  }

  @Test
  void whatRoundsToZeroHasNoSign() {
    assertThat(plain(metric.percent(0.0))).isEqualTo("0.0 %");
    assertThat(plain(metric.percent(-0.04))).isEqualTo("0.0 %");
    assertThat(plain(metric.percent(-0.0))).isEqualTo("0.0 %");
    assertThat(plain(metric.percent(0.05))).isEqualTo("+0.1 %");
  }

  // Half up of what the shortest decimals of a double say: java.math.BigDecimal is the judge.
  @Test
  void roundingIsThatOfTheDecimalsThatAreRead() {
    Digits plain = metric.forPrograms();
    Random chance = new Random(20261127);
    for (int i = 0; i < 200_000; i++) {
      int decimals = chance.nextInt(6);
      // Every other one stands at a half, where the last digit of a double decides.
      double value =
          i % 2 == 0
              ? (chance.nextInt(2_000_001) - 1_000_000) / 2.0 / Math.pow(10, chance.nextInt(7))
              : chance.nextGaussian() * Math.pow(10, chance.nextInt(12) - 3);
      assertThat(plain.number(value, decimals).replace('\u2212', '-'))
          .as("%s to %d decimals, seed 20261127", value, decimals)
          .isEqualTo(
              BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP).toPlainString());
    }
  }

  // The JDK's own formats by CLDR are what they are held against.
  @Test
  void everyLocaleWritesItsNumeralsAsTheJdkDoes() {
    for (Locale locale : NumberFormat.getAvailableLocales()) {
      Digits digits = Digits.of(UnitChoice.METRIC, locale, ZoneOffset.UTC);
      for (double value : new double[] {0, 0.05, 7, 43.25, 999, 999.99, 1000, 12345.678, 1e7})
        for (int decimals = 0; decimals <= 3; decimals++) {
          NumberFormat jdk = NumberFormat.getNumberInstance(locale);
          jdk.setMinimumFractionDigits(decimals);
          jdk.setMaximumFractionDigits(decimals);
          jdk.setRoundingMode(RoundingMode.HALF_UP);
          assertThat(digits.number(value, decimals))
              .as("%s in %s, %d decimals", value, locale, decimals)
              .isEqualTo(jdk.format(BigDecimal.valueOf(value)));
        }
    }
  }

  // Particle Data Group, Review of Particle Physics, PRD 98 (2018) 030001, Introduction 5.3: 100 to
  // 354 keep two digits, 355 to 949 one, 950 to 999 are rounded up and keep two. The first two are
  // the worked numbers of a general-purpose rounding library's page (0.03215 and 0.06515).
  @Test
  void digitsFollowTheUncertainty() {
    assertThat(metric.number(12.2135, Digits.decimalsFor(0.03215))).isEqualTo("12.214");
    assertThat(metric.number(12.2135, Digits.decimalsFor(0.06515))).isEqualTo("12.21");
    assertThat(Digits.decimalsFor(0.100)).isEqualTo(2);
    assertThat(Digits.decimalsFor(0.354)).isEqualTo(2);
    assertThat(Digits.decimalsFor(0.355)).isEqualTo(1);
    assertThat(Digits.decimalsFor(0.949)).isEqualTo(1);
    assertThat(Digits.decimalsFor(0.950)).isEqualTo(1);
    assertThat(metric.number(0.963, Digits.decimalsFor(0.963))).isEqualTo("1.0");
    assertThat(metric.number(0.0963, Digits.decimalsFor(0.0963))).isEqualTo("0.10");
    assertThat(Digits.decimalsFor(1.2)).isEqualTo(1);
    assertThat(Digits.decimalsFor(12)).isEqualTo(0);
    assertThat(Digits.decimalsFor(1234)).isEqualTo(0);
  }

  @Test
  void withoutAnUncertaintyOneDecimalStands() {
    assertThat(Digits.decimalsFor(0)).isEqualTo(1);
    assertThat(Digits.decimalsFor(Double.NaN)).isEqualTo(1);
    assertThat(plain(metric.percentWithin(1.84, Double.NaN))).isEqualTo("+1.8 %");
  }

  @Test
  void aMeanTellsItsUncertaintyAndItsSessions() {
    assertThat(plain(metric.mean(1.84, 0.41, 6))).isEqualTo("mean +1.8 % ± 0.4 (6 sessions)");
    assertThat(plain(metric.mean(-0.3, 0.152, 1))).isEqualTo("mean −0.30 % ± 0.15 (1 session)");
  }

  @Test
  void anIntervalShowsBothEndsAndAnExactOneItsValue() {
    assertThat(plain(metric.interval(1.4, 2.2))).isEqualTo("+1.4 % to +2.2 %");
    assertThat(plain(metric.interval(-0.4, 0.4))).isEqualTo("−0.4 % to +0.4 %");
    assertThat(plain(metric.interval(PercentRange.exactly(8)))).isEqualTo("+8.0 %");
  }

  @Test
  void aChangeIsInPoints() {
    assertThat(plain(metric.points(1.3))).isEqualTo("+1.3 points");
    assertThat(plain(metric.pointsInterval(0.7, 1.9))).isEqualTo("+0.7 to +1.9 points");
    assertThat(plain(metric.pointsSize(0.5))).isEqualTo("0.5 points");
  }

  @Test
  void limitsHaveTheDigitsThatTheyWereGiven() {
    assertThat(plain(metric.limit(0.5))).isEqualTo("0.5 %");
    assertThat(plain(metric.limit(2))).isEqualTo("2.0 %");
    assertThat(plain(metric.bothSides(0.25))).isEqualTo("±0.25 %");
  }

  // Common practice, no source: a quarter-mile course is 1,320 ft.
  @Test
  void lengthsOnTheGroundFollowTheChoiceOfUnits() {
    assertThat(plain(imperial.ground(402.336))).isEqualTo("1,320.0 ft");
    assertThat(plain(metric.ground(402.336))).isEqualTo("402.3 m");
    assertThat(plain(imperial.change(32.18688))).isEqualTo("+105.6 ft");
    assertThat(plain(metric.change(-4.86))).isEqualTo("−4.9 m");
    assertThat(plain(metric.change(new LengthRange(-1.5, 1.5)))).isEqualTo("−1.5 m to +1.5 m");
    assertThat(plain(metric.groundWithin(402.336, 0.148))).isEqualTo("402.34 m ± 0.15");
  }

  @Test
  void distancesThatAreRunAreKilometresOrMiles() {
    assertThat(plain(metric.distance(2413.4))).isEqualTo("2.41 km");
    assertThat(plain(imperial.distance(1609.344))).isEqualTo("1.00 mi");
  }

  // Common practice, no source: +10 % is 528 ft in a mile.
  @Test
  void anErrorPerMileOrKilometre() {
    assertThat(plain(imperial.perRoadUnit(10))).isEqualTo("+528 ft per mi");
    assertThat(plain(metric.perRoadUnit(-2))).isEqualTo("−20 m per km");
  }

  @Test
  void aReadingKeepsTheDigitsOfItsStep() {
    assertThat(plain(metric.reading(0.3, 0.01, LengthUnit.MILE))).isEqualTo("0.30 mi");
    assertThat(plain(metric.reading(5, 0.1, LengthUnit.KILOMETRE))).isEqualTo("5.0 km");
    assertThat(plain(metric.reading(400, 1, LengthUnit.METRE))).isEqualTo("400 m");
  }

  // Arithmetic on the definitions: 4:00 a kilometre is 6:26.24 a mile of 1,609.344 m.
  @Test
  void aPaceIsPerKilometreOrPerMile() {
    assertThat(plain(metric.pace(0.240))).isEqualTo("4:00 min/km");
    assertThat(plain(imperial.pace(0.240))).isEqualTo("6:26 min/mile");
    assertThat(metric.pace(Double.NaN)).isEqualTo("not known");
  }

  @Test
  void timesThatWereRun() {
    assertThat(metric.duration(Duration.ofSeconds(59))).isEqualTo("0:59");
    assertThat(metric.duration(Duration.ofSeconds(3723))).isEqualTo("1:02:03");
    assertThat(metric.timeChange(127)).isEqualTo("+2:07");
    assertThat(metric.timeChange(-5)).isEqualTo("−0:05");
  }

  @Test
  void datesFollowTheLocaleAndTheZone() {
    assertThat(metric.date(LocalDate.of(2026, 5, 12))).isEqualTo("12 May 2026");
    assertThat(imperial.date(LocalDate.of(2026, 5, 12))).isEqualTo("May 12, 2026");
    Digits east = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneId.of("Asia/Tokyo"));
    assertThat(east.moment(Instant.parse("2026-05-12T22:05:59Z"))).isEqualTo("13 May 2026, 07:05");
  }

  @Test
  void theLocaleIsTheOneGivenAndNeverTheMachines() {
    Locale before = Locale.getDefault();
    try {
      Locale.setDefault(TURKISH);
      assertThat(plain(metric.percent(-1.84))).isEqualTo("−1.8 %");
      assertThat(plain(metric.number(1234.5, 1))).isEqualTo("1,234.5");
      assertThat(metric.duration(Duration.ofSeconds(61))).isEqualTo("1:01");
      assertThat(metric.date(LocalDate.of(2026, 5, 12))).isEqualTo("12 May 2026");
      assertThat(UnitChoice.of("IMPERIAL")).contains(UnitChoice.IMPERIAL);
      assertThat(UnitChoice.IMPERIAL.code()).isEqualTo("imperial");
    } finally {
      Locale.setDefault(before);
    }
  }

  @Test
  void aTurkishReaderGetsTheDecimalComma() {
    Digits turkish = Digits.of(UnitChoice.METRIC, TURKISH, ZoneOffset.UTC);
    assertThat(plain(turkish.percent(-1.84))).isEqualTo("−1,8 %");
    assertThat(turkish.number(1234.5, 1)).isEqualTo("1.234,5");
  }

  @Test
  void aNumberThatIsNoneIsOurMistake() {
    assertThatThrownBy(() -> metric.percent(Double.NaN))
        .isInstanceOf(IllegalArgumentException.class);
  }

  /** The foot and the mile of 1959: 0.3048 m and 1609.344 m. */
  @Test
  void lengthsThatWereStoredInMetresAreReadInTheReadersUnits() {
    Digits metric = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);
    Digits miles = Digits.of(UnitChoice.IMPERIAL, Locale.US, ZoneOffset.UTC);
    String stored = "a step is 4.02 % of it; enough from 3219 m or 9 laps (12.5 m off, 3769253 m)";
    assertThat(metric.lengthsIn(stored))
        .isEqualTo(
            "a step is 4.02\u00a0% of it; enough from 3,219\u00a0m or 9 laps (12.5\u00a0m off,"
                + " 3,769\u00a0km)");
    assertThat(miles.lengthsIn(stored))
        .isEqualTo(
            "a step is 4.02\u00a0% of it; enough from 10,561\u00a0ft or 9 laps (41.0\u00a0ft off,"
                + " 2,342\u00a0mi)");
    // 1,001 km by the mile of 1959: 621.99.
    assertThat(miles.lengthsIn("the nearest is pier, 1,001 km away"))
        .isEqualTo("the nearest is pier, 622\u00a0mi away");
    Digits german = Digits.of(UnitChoice.METRIC, Locale.GERMANY, ZoneOffset.UTC);
    assertThat(german.lengthsIn("a step is 4.02 % of it, 1,001 km away"))
        .isEqualTo("a step is 4,02\u00a0% of it, 1.001\u00a0km away");
    assertThat(miles.lengthsIn("3 min at 2 m/s, 5 m per km, 1.20 mm"))
        .isEqualTo("3 min at 2 m/s, 5 m per km, 1.20 mm");
  }
}
