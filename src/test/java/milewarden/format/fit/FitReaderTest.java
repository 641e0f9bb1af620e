package milewarden.format.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.format.TrackFormats;
import milewarden.track.ClaimedLap;
import milewarden.track.DeviceClaim;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.TimerPause;
import milewarden.track.Track;
import milewarden.track.TrackRead;
import org.junit.jupiter.api.Test;

/** Files are written by {@link FitBytes}, byte by byte from the layout; no sample of anyone's. */
final class FitReaderTest {
  private static final int[] TIME = {253, 4, FitBytes.UINT32};
  private static final int[] LAT = {0, 4, FitBytes.SINT32};
  private static final int[] LON = {1, 4, FitBytes.SINT32};
  private static final int[] DISTANCE = {5, 4, FitBytes.UINT32};
  private static final int[] SPEED = {6, 2, FitBytes.UINT16};
  private static final int[] HEIGHT = {2, 2, FitBytes.UINT16};
  private static final int[] CADENCE = {4, 1, FitBytes.UINT8};
  private static final long NO_PLACE = 0x7fff_ffffL;

  /** 2026-05-12T07:00:00Z in seconds since 1989-12-31T00:00:00Z: 13,281 days and 7 hours. */
  private static final long T = 13_281L * 86_400 + 7 * 3600;

  private static final Instant START = Instant.parse("2026-05-12T07:00:00Z");

  private static TrackRead read(byte[] bytes) {
    return TrackFormats.read(new ByteArrayInputStream(bytes));
  }

  private static TrackRead.Usable usable(byte[] bytes) {
    TrackRead.Usable read =
        read(bytes)
            .fold(
                u -> u,
                r -> {
                  throw new AssertionError("refused: " + r.why());
                });
    Drops d = read.drops();
    assertThat(d.kept() + d.dropped()).isEqualTo(d.seen());
    assertThat(d.kept()).isEqualTo(read.track().size());
    return read;
  }

  private static Issue refused(byte[] bytes) {
    return read(bytes)
        .fold(
            u -> {
              throw new AssertionError("read: " + u.drops());
            },
            r -> r.why());
  }

  /** One 2^31st of 180 degrees to the unit: the published position unit. */
  private static long units(double degrees) {
    return Math.round(degrees * Math.pow(2, 31) / 180);
  }

  private static FitBytes threeFixes(boolean bigEndian) {
    return new FitBytes()
        .define(0, 20, bigEndian, TIME, LAT, LON, HEIGHT, DISTANCE, SPEED, CADENCE)
        .data(0, T, units(52.5), units(13.25), (34 + 500) * 5 + 1, 0, 0xffff, 83)
        .data(0, T + 1, units(-52.5), units(-13.25), 0xffff, 312, 3120, 0xff)
        .data(0, T + 2, units(52.5), units(13.26), 2670, 623, 3110, 84);
  }

  @Test
  void theChecksumIsThePublishedOne() {
    // CRC-16/ARC of the nine digits: 0xBB3D, the catalogue's check value.
    byte[] digits = "123456789".getBytes(StandardCharsets.US_ASCII);
    assertThat(Crc16.update(0, digits, 0, 9)).isEqualTo(0xBB3D);
    assertThat(FitBytes.bitwise(digits)).isEqualTo(0xBB3D);
  }

  @Test
  void aRecordHasItsPlaceTimeHeightDistanceSpeedAndCadenceInBothByteOrders() {
    for (boolean bigEndian : new boolean[] {false, true}) {
      Track t = usable(threeFixes(bigEndian).file()).track();
      assertThat(t.format()).isEqualTo("fit");
      // Half a unit is 4.2e-8 degrees.
      assertThat(t.latitudesDeg()[0]).isCloseTo(52.5, within(4.2e-8));
      assertThat(t.latitudesDeg()[1]).isCloseTo(-52.5, within(4.2e-8));
      assertThat(t.longitudesDeg()[2]).isCloseTo(13.26, within(4.2e-8));
      assertThat(t.startedAt()).contains(START);
      assertThat(t.endedAt()).contains(START.plusSeconds(2));
      assertThat(t.heightsM()).containsExactly(34.2, Double.NaN, 34.0);
      assertThat(t.distancesM()).containsExactly(0, 3.12, 6.23);
      assertThat(t.speedsMps()).containsExactly(Double.NaN, 3.12, 3.11);
      assertThat(t.cadencesPerMin()).containsExactly(83, Double.NaN, 84);
      assertThat(t.segments()).isEqualTo(1);
    }
  }

  @Test
  void oneUnitOfAPositionIsNineMillimetresAndTheEpochTheLastDayOf1989() {
    // 180 / 2^31 = 8.381903e-8 degrees; 1989-12-31T00:00:00Z is 631065600 s since 1970.
    byte[] one = new FitBytes().define(0, 20, false, TIME, LAT, LON).data(0, 0, 1, 0).file();
    Track t = usable(one).track();
    assertThat(t.latitudesDeg()[0]).isCloseTo(8.381903e-8, within(5e-15));
    assertThat(t.startedAt()).contains(Instant.ofEpochSecond(631_065_600L));
  }

  @Test
  void aDateOf1989IsSaid() {
    byte[] one = new FitBytes().define(0, 20, false, TIME, LAT, LON).data(0, 60, 9, 9).file();
    assertThat(usable(one).drops().count(Issue.Kind.TIME_IMPLAUSIBLE)).isEqualTo(1);
  }

  @Test
  void theMarkOfNoPositionIsNoPlace() {
    byte[] bytes =
        new FitBytes()
            .define(0, 20, false, TIME, LAT, LON)
            .data(0, T, NO_PLACE, NO_PLACE)
            .data(0, T + 1, units(10), NO_PLACE)
            .data(0, T + 2, units(10), units(20))
            .file();
    TrackRead.Usable read = usable(bytes);
    assertThat(read.track().size()).isEqualTo(1);
    assertThat(read.drops().count(Issue.Kind.NO_POSITION)).isEqualTo(2);
  }

  @Test
  void aRecordingWithoutAPlaceIsRefusedWithTheNumberOfItsRecords() {
    byte[] bytes =
        new FitBytes().define(0, 20, false, TIME, LAT, LON).data(0, T, NO_PLACE, NO_PLACE).file();
    Issue why = refused(bytes);
    assertThat(why.kind()).isEqualTo(Issue.Kind.NO_FIXES);
    assertThat(why.detail()).startsWith("1 records");
  }

  @Test
  void aFileCutBeforeItsFirstFixSaysSoAndWhere() {
    byte[] whole = threeFixes(false).file();
    // The header of 14 bytes, a definition's 6 and 3 for each of its fields, and a part of a fix.
    Issue why = refused(Arrays.copyOf(whole, 20));
    assertThat(why.kind()).isEqualTo(Issue.Kind.NO_FIXES);
    assertThat(why.detail())
        .isEqualTo("no records; it is cut short: ends at byte 20 of " + whole.length);
  }

  @Test
  void aLapOfLessThanNothingIsLeftOutAndSaid() {
    int[] signed = {9, 4, FitBytes.SINT32};
    byte[] bytes = threeFixes(false).define(5, 19, false, TIME, signed).data(5, T, -1).file();
    TrackRead.Usable read = usable(bytes);
    assertThat(read.drops().count(Issue.Kind.VALUE_UNREADABLE)).isEqualTo(1);
    assertThat(read.track().laps().get(0).distanceM()).isEmpty();
    assertThat(read.track().claimedTotalM()).isEmpty();
  }

  @Test
  void timesInFiveBitsRollOver() {
    // T ends in binary 10000: 16 of 32. The offsets 20, 31, 3 are +4, +15 and, rolled over, +19.
    assertThat(T & 31).isEqualTo(16);
    byte[] bytes =
        new FitBytes()
            .define(0, 20, false, TIME, LAT, LON)
            .define(1, 20, false, LAT, LON)
            .data(0, T, units(1), units(1))
            .compressed(1, 20, units(1), units(2))
            .compressed(1, 31, units(1), units(3))
            .compressed(1, 3, units(1), units(4))
            .file();
    Track t = usable(bytes).track();
    long start = START.toEpochMilli();
    assertThat(t.timesMs()).containsExactly(start, start + 4000, start + 15_000, start + 19_000);
  }

  @Test
  void fieldsOfDevelopersAndUnknownMessagesAreStepsOver() {
    byte[] bytes =
        new FitBytes()
            .define(3, 0xff00, true, new int[] {1, 7, FitBytes.STRING}, new int[] {9, 5, 0x55})
            .data(3, 0, 0)
            .define(0, 20, false, new int[][] {{0, 2, 0}, {1, 3, 0}}, LAT, LON, TIME)
            .data(0, units(1), units(2), T)
            .raw(1, 2, 3, 4, 5)
            .data(0, units(1), units(3), T + 1)
            .raw(0x40, 0x80, 0xff, 0, 0)
            .file();
    assertThat(usable(bytes).track().timesMs())
        .containsExactly(START.toEpochMilli(), START.toEpochMilli() + 1000);
  }

  @Test
  void aFieldOfAnotherSizeThanItsTypeIsNoValue() {
    byte[] bytes =
        new FitBytes()
            .define(0, 20, false, TIME, LAT, LON, new int[] {5, 2, FitBytes.UINT32})
            .data(0, T, units(1), units(2), 77)
            .file();
    assertThat(usable(bytes).track().distancesM()).isEmpty();
  }

  @Test
  void theTimerCutsSegmentsAndIsToldAsPauses() {
    int[] event = {0, 1, FitBytes.ENUM};
    int[] type = {1, 1, FitBytes.ENUM};
    byte[] bytes =
        new FitBytes()
            .define(0, 20, false, TIME, LAT, LON)
            .define(1, 21, false, TIME, event, type)
            .data(1, T, 0, 0)
            .data(0, T, units(1), units(1))
            .data(0, T + 1, units(1), units(1.1))
            .data(1, T + 1, 0, 4)
            .data(1, T + 61, 0, 0)
            .data(0, T + 61, units(1), units(1.2))
            .data(0, T + 62, units(1), units(1.3))
            .data(1, T + 62, 0, 4)
            .file();
    Track t = usable(bytes).track();
    assertThat(t.segments()).isEqualTo(2);
    assertThat(t.segmentStart(1)).isEqualTo(2);
    assertThat(t.pauses())
        .containsExactly(new TimerPause(START.plusSeconds(1), START.plusSeconds(61)));
  }

  @Test
  void lapsAndTotalsAreTheDevicesOwn() {
    int[] startTime = {2, 4, FitBytes.UINT32};
    int[] timer = {8, 4, FitBytes.UINT32};
    int[] distance = {9, 4, FitBytes.UINT32};
    byte[] bytes =
        threeFixes(false)
            .define(1, 19, false, TIME, startTime, timer, distance)
            .data(1, T + 2, T, 1_900, 40_123)
            .define(2, 18, false, TIME, distance)
            .data(2, T + 2, 40_250)
            .file();
    Track t = usable(bytes).track();
    assertThat(t.claimedTotalM()).hasValue(402.5);
    assertThat(t.laps())
        .containsExactly(
            new ClaimedLap(
                Optional.of(START),
                Optional.of(START.plusSeconds(2)),
                OptionalDouble.of(401.23),
                OptionalDouble.of(1.9)));
  }

  @Test
  void theDeviceSaysWhoItIsAndSensorsDoNot() {
    int[] type = {0, 1, FitBytes.ENUM};
    int[] maker = {1, 2, FitBytes.UINT16};
    int[] product = {2, 2, FitBytes.UINT16};
    int[] serial = {3, 4, FitBytes.UINT32Z};
    int[] index = {0, 1, FitBytes.UINT8};
    int[] software = {5, 2, FitBytes.UINT16};
    byte[] bytes =
        threeFixes(false)
            .define(1, 0, false, type, maker, product, serial)
            .data(1, 4, 255, 17, 3_000_000_001L)
            .define(2, 23, false, index, software)
            .data(2, 1, 999)
            .data(2, 0, 1_205)
            .file();
    assertThat(usable(bytes).track().claim())
        .isEqualTo(
            new DeviceClaim(
                Optional.empty(),
                Optional.of("255/17"),
                Optional.of("3000000001"),
                Optional.of("12.05")));
  }

  @Test
  void filesBehindOneAnotherAreOneRecordingThatIsNotJoined() {
    ByteArrayOutputStream both = new ByteArrayOutputStream();
    both.writeBytes(threeFixes(false).file());
    both.writeBytes(
        new FitBytes()
            .define(7, 20, true, TIME, LAT, LON)
            .data(7, T + 100, units(3), units(4))
            .file());
    Track t = usable(both.toByteArray()).track();
    assertThat(t.size()).isEqualTo(4);
    assertThat(t.segments()).isEqualTo(2);
  }

  @Test
  void aWrongChecksumIsSaidAndTheFileRead() {
    byte[] bytes = threeFixes(false).file();
    bytes[bytes.length - 1] ^= 0x55;
    TrackRead.Usable read = usable(bytes);
    assertThat(read.track().size()).isEqualTo(3);
    assertThat(read.drops().count(Issue.Kind.CHECKSUM_WRONG)).isEqualTo(1);
  }

  @Test
  void aFileThatBreaksOffAnywhereKeepsTheFixesUpToThere() {
    byte[] whole = threeFixes(true).file();
    Track all = usable(whole).track();
    int kept = 0;
    for (int length = 14; length < whole.length; length++) {
      TrackRead read = read(Arrays.copyOf(whole, length));
      int n =
          read.fold(
              u -> {
                assertThat(u.drops().truncated()).isTrue();
                int size = u.track().size();
                assertThat(u.track().latitudesDeg())
                    .containsExactly(Arrays.copyOf(all.latitudesDeg(), size));
                return size;
              },
              r -> {
                assertThat(r.why().kind()).isEqualTo(Issue.Kind.NO_FIXES);
                return 0;
              });
      assertThat(n).isGreaterThanOrEqualTo(kept);
      kept = n;
    }
    assertThat(kept).isEqualTo(3);
  }

  @Test
  void aRecorderThatDiedBeforeItWroteTheSizeIsReadToItsEnd() {
    byte[] whole = threeFixes(false).file(0);
    TrackRead.Usable read = usable(Arrays.copyOf(whole, whole.length - 2));
    assertThat(read.track().size()).isEqualTo(3);
    assertThat(read.drops().truncated()).isTrue();
  }

  @Test
  void aMessageThatWasNeverDefinedEndsTheReadingWithItsPlace() {
    byte[] bytes = threeFixes(false).raw(5, 0, 0).file();
    TrackRead.Usable read = usable(bytes);
    assertThat(read.track().size()).isEqualTo(3);
    Issue truncated = read.drops().details().get(0);
    assertThat(truncated.kind()).isEqualTo(Issue.Kind.TRUNCATED);
    assertThat(truncated.place()).contains("byte " + (bytes.length - 5));
    assertThat(refused(new FitBytes().raw(5, 0, 0).file()).kind()).isEqualTo(Issue.Kind.MALFORMED);
  }

  @Test
  void distancePackedIntoTwelveBitsRollsOverAfter256Metres() {
    int[] packed = {8, 3, 0x0d};
    FitBytes file = new FitBytes().define(0, 20, false, TIME, LAT, LON, packed);
    // 100 m a record: 1600 sixteenths; twelve bits hold 4096, so that the third rolls over.
    for (int i = 0; i < 4; i++) {
      long value = (long) (1600 * i % 4096) << 12 | 312;
      file.data(0, T + i, units(1), units(1 + i * 0.001), value);
    }
    Track t = usable(file.file()).track();
    assertThat(t.distancesM()).containsExactly(0, 100, 200, 300);
    assertThat(t.speedsMps()).containsOnly(3.12);
  }
}
