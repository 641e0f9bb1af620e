package milewarden.format.text;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.util.Random;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Sentences are written out here; the two with a source are the published examples. */
final class NmeaReaderTest {
  /** The widely published example sentences of GGA (*47) and RMC (*6A). */
  private static final String GGA =
      "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47";

  private static final String RMC =
      "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A";

  /** A sentence with its checksum, by the definition: exclusive or of all signs. */
  static String sentence(String body) {
    int sum = 0;
    for (char c : body.toCharArray()) sum ^= c;
    return "$%s*%02X".formatted(body, sum);
  }

  private static String rmc(String time, String lat, String lon, String date) {
    return sentence("GNRMC," + time + ",A," + lat + ",N," + lon + ",E,2.0,90.0," + date + ",,");
  }

  private static String gga(String time, String lat, String lon) {
    return sentence("GNGGA," + time + "," + lat + ",N," + lon + ",E,1,12,0.8,34.5,M,40.0,M,,");
  }

  private static Track track(String... lines) {
    return Reading.usable(String.join("\r\n", lines)).track();
  }

  private static Drops drops(String... lines) {
    return Reading.usable(String.join("\n", lines)).drops();
  }

  @Test
  void thePublishedExamplesAreOneFix() {
    Track t = track(GGA, RMC);
    assertThat(t.format()).isEqualTo("nmea");
    assertThat(t.size()).isEqualTo(1);
    // 48 degrees 7.038 minutes; 11 degrees 31 minutes.
    assertThat(t.latitudesDeg()[0]).isCloseTo(48.1173, within(1e-12));
    assertThat(t.longitudesDeg()[0]).isCloseTo(11.516666666666667, within(1e-12));
    assertThat(t.heightsM()).containsExactly(545.4);
    // 22.4 knots of 1852 m.
    assertThat(t.speedsMps()[0]).isCloseTo(11.523556, within(5e-7));
    assertThat(t.startedAt()).contains(Instant.parse("1994-03-23T12:35:19Z"));
  }

  /** The oracle is java.time; beyond three decimals the nearest millisecond. */
  @Test
  void timesOfDayReadAsTheJdkReadsThem() {
    Random random = new Random(20261127);
    NmeaSentence sentence = new NmeaSentence();
    for (int i = 0; i < 20_000; i++) {
      LocalTime time = LocalTime.ofNanoOfDay(random.nextLong(86_400_000_000_000L));
      int decimals = random.nextInt(7);
      long unit = (long) Math.pow(10, 9 - decimals);
      LocalTime cut = time.withNano((int) (time.getNano() / unit * unit));
      String text = cut.format(DateTimeFormatter.ofPattern("HHmmss"));
      if (decimals > 0) text += "." + "%09d".formatted(cut.getNano()).substring(0, decimals);
      String line = sentence("GPRMC," + text + ",A");
      assertThat(sentence.take(Reading.line(line))).isEqualTo(NmeaSentence.Form.SENTENCE);
      double ms = cut.toNanoOfDay() / 1e6;
      assertThat((double) sentence.timeOfDayMs(1)).as(text).isCloseTo(ms, within(0.5000001));
      if (decimals <= 3) assertThat(sentence.timeOfDayMs(1)).as(text).isEqualTo((int) ms);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"240000", "126000", "120061", "12:00:00", "-20000", "12000x"})
  void whatIsNoTimeOfDayIsNone(String text) {
    NmeaSentence sentence = new NmeaSentence();
    sentence.take(Reading.line(sentence("GPRMC," + text + ",A")));
    assertThat(sentence.timeOfDayMs(1)).isEqualTo(-1);
  }

  @Test
  void theOrderOfTheSentencesOfOneInstantDoesNotMatter() {
    assertThat(track(RMC, GGA).heightsM()).containsExactly(545.4);
    assertThat(track(RMC, GGA).size()).isEqualTo(1);
  }

  @Test
  void everySystemsTalkerIsHeard() {
    for (String talker : new String[] {"GP", "GN", "GL", "GA", "GB", "BD"}) {
      String line = sentence(talker + "RMC,070000,A,5230.0,N,01315.0,E,2.0,90.0,120526,,");
      assertThat(track(line).latitudesDeg()).as(talker).containsExactly(52.5);
    }
    assertThat(Reading.refused(sentence("HCRMC,070000,A,5230.0,N,01315.0,E,2,9,120526,,")).kind())
        .isEqualTo(Issue.Kind.NOT_A_TRACK);
  }

  @Test
  void aLineWithAWrongChecksumIsLeftOutAndTheOthersRead() {
    Drops d =
        drops(
            rmc("070000", "5230.0", "01315.0", "120526"),
            rmc("070001", "5230.0", "01315.1", "120526").replace("01315.1", "01316.1"),
            rmc("070002", "5230.0", "01315.2", "120526"));
    assertThat(d.kept()).isEqualTo(2);
    assertThat(d.count(Issue.Kind.LINE_DAMAGED)).isEqualTo(1);
    assertThat(d.details().get(0).place()).contains("line 2");
  }

  @Test
  void theDateMovesOnAtMidnightBetweenTwoDates() {
    Track t =
        track(
            rmc("235959.00", "5230.0", "01315.0", "311225"),
            gga("000000.00", "5230.0", "01315.1"),
            rmc("000001.00", "5230.0", "01315.2", "010126"));
    long last = Instant.parse("2025-12-31T23:59:59Z").toEpochMilli();
    assertThat(t.timesMs()).containsExactly(last, last + 1000, last + 2000);
  }

  @Test
  void fixesBeforeTheFirstDateGetItToo() {
    String zda = sentence("GPZDA,070002.00,12,05,2026,00,00");
    Track t = track(gga("070000", "5230.0", "01315.0"), gga("070001", "5230.0", "01315.1"), zda);
    assertThat(t.startedAt()).contains(Instant.parse("2026-05-12T07:00:00Z"));
    assertThat(t.endedAt()).contains(Instant.parse("2026-05-12T07:00:01Z"));
    Track over = track(gga("235959", "5230.0", "01315.0"), gga("000000", "5230.0", "01315.1"), zda);
    assertThat(over.startedAt()).contains(Instant.parse("2026-05-11T23:59:59Z"));
  }

  @Test
  void withoutAnyDateTheTimesOfDayAreKeptAndThatIsSaid() {
    String[] lines = {gga("070000", "5230.0", "01315.0"), gga("070002", "5230.0", "01315.1")};
    Track t = track(lines);
    assertThat(t.timesMs()).containsExactly(25_200_000L, 25_202_000L);
    assertThat(drops(lines).count(Issue.Kind.TIME_WITHOUT_DATE)).isEqualTo(1);
  }

  @Test
  void anInstantWithoutAFixIsLeftOutAndCounted() {
    String none = sentence("GPRMC,070001,V,,,,,,,120526,,");
    String quality = sentence("GPGGA,070002,,,,,0,00,,,M,,M,,");
    Drops d = drops(rmc("070000", "5230.0", "01315.0", "120526"), none, quality);
    assertThat(d.kept()).isEqualTo(1);
    assertThat(d.count(Issue.Kind.NO_POSITION)).isEqualTo(2);
  }

  @Test
  void twoSentencesOfOneKindAreTwoInstantsEvenAtTheSameSecond() {
    Track t =
        track(
            rmc("070000", "5230.0", "01315.0", "120526"),
            rmc("070000", "5230.0", "01315.1", "120526"));
    assertThat(t.size()).isEqualTo(2);
  }

  @Test
  void southAndWestAreNegativeAndSixtyMinutesAreNone() {
    String south = sentence("GPRMC,070000,A,3351.5,S,07040.25,W,2.0,90.0,120526,,");
    Track t = track(south);
    assertThat(t.latitudesDeg()[0]).isCloseTo(-33.858333333333334, within(1e-12));
    assertThat(t.longitudesDeg()[0]).isCloseTo(-70.670833333333334, within(1e-12));
    Drops d = drops(south, sentence("GPRMC,070001,A,3360.0,S,07040.25,W,2.0,90.0,120526,,"));
    assertThat(d.count(Issue.Kind.POSITION_NOT_A_NUMBER)).isEqualTo(1);
  }

  @Test
  void whatALoggerWritesBeforeOrBetweenSentencesIsSteppedOver() {
    Track t = track("# my logger", "2026-05-12 07:00:00.123 " + RMC, "", "battery 97 %");
    assertThat(t.size()).isEqualTo(1);
  }

  @Test
  void aSentenceWithoutAChecksumIsRead() {
    assertThat(track(RMC.substring(0, RMC.indexOf('*'))).size()).isEqualTo(1);
  }

  @Test
  void aLogInTwoByteSignsIsRead() {
    byte[] text = ("\uFEFF" + GGA + "\r\n" + RMC).getBytes(StandardCharsets.UTF_16LE);
    assertThat(Reading.usable(text).track().size()).isEqualTo(1);
  }

  @Test
  void aLogThatEndsInTheMiddleOfASentenceKeepsTheRest() {
    Drops d = drops(rmc("070000", "5230.0", "01315.0", "120526"), "$GNRMC,0700");
    assertThat(d.kept()).isEqualTo(1);
  }

  /** The sum is of the signs, by the definition; one that is no ASCII counts with all its bits. */
  @ParameterizedTest
  @ValueSource(strings = {"", "é", "éé", "€", "\uD83D\uDE00", "\u0130"})
  void aSumHoldsForTheSignsOfTheLine(String more) {
    Random random = new Random(20261127);
    for (int i = 0; i < 500; i++) {
      StringBuilder body = new StringBuilder("GPRMC");
      int fields = random.nextInt(4, 20);
      for (int f = 0; f < fields; f++)
        body.append(",1234567890".substring(0, random.nextInt(1, 11)));
      body.insert(random.nextInt(5, body.length()), more);
      int sum = 0;
      for (char c : body.toString().toCharArray()) sum ^= c;
      String right = "$%s*%02X".formatted(body, sum);
      String wrong = "$%s*%02X".formatted(body, sum ^ 1 << random.nextInt(8));
      NmeaSentence sentence = new NmeaSentence();
      assertThat(sentence.take(Reading.line(right)))
          .isEqualTo(sum < 256 ? NmeaSentence.Form.SENTENCE : NmeaSentence.Form.DAMAGED);
      assertThat(sentence.take(Reading.line(wrong))).isEqualTo(NmeaSentence.Form.DAMAGED);
    }
  }

  /** The oracle is a cut by the JDK; the tenth field is the last that is asked for. */
  @Test
  void fieldsLieBetweenCommas() {
    Random random = new Random(20261127);
    for (int i = 0; i < 2_000; i++) {
      StringBuilder body = new StringBuilder("$GPRMC");
      int count = random.nextInt(1, 80);
      for (int f = 0; f < count; f++)
        body.append(',')
            .append(
                random.nextInt(3) == 0
                    ? ""
                    : Integer.toString(random.nextInt(1 << random.nextInt(1, 31))));
      String[] fields = body.toString().split(",", -1);
      NmeaSentence sentence = new NmeaSentence();
      assertThat(sentence.take(Reading.line(body.toString())))
          .isEqualTo(NmeaSentence.Form.SENTENCE);
      for (int f = 1; f < 10; f++) {
        String field = f < fields.length ? fields[f] : "";
        assertThat(sentence.isEmpty(f)).as("%d of %s", f, body).isEqualTo(field.isEmpty());
        if (!field.isEmpty()) assertThat(sentence.number(f)).isEqualTo(Double.parseDouble(field));
      }
    }
  }
}
