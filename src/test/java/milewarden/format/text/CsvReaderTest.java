package milewarden.format.text;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

final class CsvReaderTest {
  private static final long T0 = Instant.parse("2026-05-12T07:00:00Z").toEpochMilli();

  private static Track track(String... lines) {
    return Reading.usable(String.join("\n", lines)).track();
  }

  private static Drops drops(String... lines) {
    return Reading.usable(String.join("\n", lines)).drops();
  }

  @Test
  void aTableWithHeadingsInCommonUseIsRead() {
    Track t =
        track(
            "time,lat,lon,ele,distance (m),speed (km/h),cadence",
            "2026-05-12T07:00:00Z,52.5,13.25,34.5,0,10.8,83",
            "2026-05-12T07:00:01Z,-52.5,-13.25,,3.12,,");
    assertThat(t.format()).isEqualTo("csv");
    assertThat(t.latitudesDeg()).containsExactly(52.5, -52.5);
    assertThat(t.longitudesDeg()).containsExactly(13.25, -13.25);
    assertThat(t.heightsM()).containsExactly(34.5, Double.NaN);
    assertThat(t.timesMs()).containsExactly(T0, T0 + 1000);
    assertThat(t.distancesM()).containsExactly(0, 3.12);
    assertThat(t.speedsMps()[0]).isCloseTo(3.0, within(1e-12));
    assertThat(t.cadencesPerMin()).containsExactly(83, Double.NaN);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "Latitude;Longitude;Time#52,5;13,25;2026-05-12T07:00:00Z",
        "Latitude\tLongitude\tTime#52.5\t13.25\t2026-05-12T07:00:00Z",
        "\"LAT\",\"LNG\",\"Timestamp\"#\"52,5\",\"13,25\",\"2026-05-12T07:00:00Z\"",
        "lat_deg|lon_deg|utc#52.5|13.25|2026-05-12 07:00:00",
        "date,time (UTC),latitude [deg],longitude [deg]#12.05.2026,07:00:00,52.5,13.25",
        "date,time (+02:00),lat,long#2026-05-12,09:00:00,52.5,13.25",
        "date,utc time,latitude,N/S,longitude,E/W#2026/05/12,7:00:00 AM,52.5,N,13.25,E",
        "lat,lon,time#52\u00b030'00.0\"N,13\u00b015.000'E,1778569200",
        "lat,lon,time#N 52 30.0,E 13 15.0,1778569200000",
        "exported by hand#name: morning#lat,lon,timestamp#52.5,13.25,2026-05-12T09:00:00+02:00",
      })
  void formsInCommonUseSayTheSame(String rows) {
    Track t = track(rows.split("#"));
    assertThat(t.latitudesDeg()).containsExactly(52.5);
    assertThat(t.longitudesDeg()).containsExactly(13.25);
    // 1778569200 is 2026-05-12T07:00:00Z by the calendar: 20585 days and 7 hours.
    assertThat(20585L * 86_400 + 7 * 3600).isEqualTo(1_778_569_200L);
    assertThat(t.timesMs()).containsExactly(T0);
  }

  @ParameterizedTest
  @CsvSource({"52 60.0,13", "-52 30 N,13", "52 30 X,13", "1.234.5,13", "N52N,13", "52 30 10 5,13"})
  void whatIsNoAngleIsLeftOutAndShown(String latitude, String longitude) {
    Drops d = drops("lat;lon", "1;2", latitude + ";" + longitude);
    assertThat(d.kept()).isEqualTo(1);
    assertThat(d.count(Issue.Kind.POSITION_NOT_A_NUMBER)).isEqualTo(1);
  }

  @Test
  void aDayAboveTwelveShowsWhichNumberIsTheDay() {
    Track dayFirst =
        track("lat,lon,time", "1,1,11/05/2026 23:59:59 Z", "1,2,13/05/2026 00:00:00 Z");
    assertThat(dayFirst.startedAt()).contains(Instant.parse("2026-05-11T23:59:59Z"));
    Track monthFirst =
        track("lat,lon,time", "1,1,05/11/2026 23:59:59 Z", "1,2,05/13/2026 00:00:00 Z");
    assertThat(monthFirst.startedAt()).contains(Instant.parse("2026-05-11T23:59:59Z"));
    assertThat(monthFirst.endedAt()).contains(Instant.parse("2026-05-13T00:00:00Z"));
  }

  @Test
  void aDateThatCanBeReadTwoWaysIsAskedForAndNotGuessed() {
    String[] rows = {"lat,lon,time", "1,1,05/11/2026 07:00:00 Z", "1,2,05/11/2026 07:00:01 Z"};
    Track t = track(rows);
    assertThat(t.startedAt()).isEmpty();
    assertThat(drops(rows).count(Issue.Kind.DATE_AMBIGUOUS)).isEqualTo(1);
    // The fifth of May is the same both ways.
    assertThat(track("lat,lon,time", "1,1,05/05/2026 07:00:00 Z").startedAt())
        .contains(Instant.parse("2026-05-05T07:00:00Z"));
  }

  @Test
  void aTimeWithoutAZoneIsReadAsUtcAndSaid() {
    Drops d = drops("lat,lon,time", "1,1,2026-05-12 07:00:00");
    assertThat(d.count(Issue.Kind.TIME_WITHOUT_ZONE)).isEqualTo(1);
  }

  @Test
  void theNewestRowFirstIsTurnedRoundAndSaid() {
    String[] rows = {
      "lat,lon,time,ele,segment",
      "1,3,2026-05-12T07:00:02Z,,b",
      "1,2,2026-05-12T07:00:01Z,20,a",
      "1,1,2026-05-12T07:00:00Z,10,a"
    };
    Track t = track(rows);
    assertThat(t.longitudesDeg()).containsExactly(1, 2, 3);
    assertThat(t.heightsM()).containsExactly(10, 20, Double.NaN);
    assertThat(t.segments()).isEqualTo(2);
    assertThat(t.segmentStart(1)).isEqualTo(2);
    assertThat(drops(rows).count(Issue.Kind.NEWEST_FIRST)).isEqualTo(1);
    assertThat(drops(rows).count(Issue.Kind.TIME_GOES_BACK)).isZero();
  }

  @Test
  void aDistanceWithoutAUnitIsAskedForAndNotUsed() {
    String[] rows = {"lat,lon,distance,speed", "1,1,0.0,3.1"};
    Track t = track(rows);
    assertThat(t.distancesM()).isEmpty();
    assertThat(t.speedsMps()).isEmpty();
    assertThat(drops(rows).count(Issue.Kind.COLUMN_DOUBTFUL)).isEqualTo(2);
    assertThat(track("lat,lon,distance_km", "1,1,0.5").distancesM()).containsExactly(500);
  }

  @Test
  void twoLatitudesAreRefusedWithTheirHeading() {
    Issue why = Reading.refused("lat,lon,Latitude\n1,2,3\n");
    assertThat(why.kind()).isEqualTo(Issue.Kind.COLUMNS_UNCLEAR);
    assertThat(why.place()).contains("line 1");
    assertThat(why.detail()).contains("Latitude");
  }

  @Test
  void aTableWithoutAPlaceIsNoTrack() {
    assertThat(Reading.refused("date,weight\n2026-05-12,70\n").kind())
        .isEqualTo(Issue.Kind.NOT_A_TRACK);
  }

  @Test
  void aRowWithoutAPlaceIsCounted() {
    Drops d = drops("lat,lon,time", "1,1,", ",,2026-05-12T07:00:00Z", "x,y,z", "0,0,");
    assertThat(d.seen()).isEqualTo(4);
    assertThat(d.count(Issue.Kind.NO_POSITION)).isEqualTo(1);
    assertThat(d.count(Issue.Kind.POSITION_NOT_A_NUMBER)).isEqualTo(1);
    assertThat(d.count(Issue.Kind.POSITION_SENTINEL)).isEqualTo(1);
    assertThat(d.count(Issue.Kind.TIME_MISSING)).isEqualTo(1);
  }

  @Test
  void aTableInTwoByteSignsIsRead() {
    byte[] text = "\uFEFFlat;lon\r\n52,5;13,25\r\n".getBytes(StandardCharsets.UTF_16BE);
    assertThat(Reading.usable(text).track().latitudesDeg()).containsExactly(52.5);
  }

  @Test
  void aLineWithoutEndIsRefused() {
    String text = "lat,lon\n1,1\n" + "9".repeat(Lines.LONGEST + 10);
    assertThat(Reading.refused(text).kind()).isEqualTo(Issue.Kind.TOO_LARGE);
  }
}
