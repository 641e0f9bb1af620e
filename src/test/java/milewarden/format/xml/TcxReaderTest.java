package milewarden.format.xml;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.track.ClaimedLap;
import milewarden.track.DeviceClaim;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/** Files are written out here by the format's element names; no sample of anyone's. */
final class TcxReaderTest {
  private static final Instant START = Instant.parse("2026-05-12T07:00:00Z");

  private static String at(int second) {
    return START.plusSeconds(second).toString();
  }

  private static String position(double lat, double lon) {
    return "<Position><LatitudeDegrees>%s</LatitudeDegrees><LongitudeDegrees>%s</LongitudeDegrees></Position>"
        .formatted(lat, lon);
  }

  private static String point(int second, double lon) {
    return point(second, position(1, lon));
  }

  private static String point(int second, String rest) {
    return "<Trackpoint><Time>" + at(second) + "</Time>" + rest + "</Trackpoint>\n";
  }

  private static String track(String... points) {
    return "<Track>" + String.join("", points) + "</Track>";
  }

  private static String lap(int start, String timer, String metres, String... tracks) {
    return "<Lap StartTime=\"%s\"><TotalTimeSeconds>%s</TotalTimeSeconds><DistanceMeters>%s</DistanceMeters>%s</Lap>"
        .formatted(at(start), timer, metres, String.join("", tracks));
  }

  private static String file(String... inActivity) {
    return "<?xml version=\"1.0\"?>\n<TrainingCenterDatabase xmlns=\"urn:any\"><Activities><Activity Sport=\"Running\"><Id>"
        + at(0)
        + "</Id>"
        + String.join("", inActivity)
        + "</Activity></Activities></TrainingCenterDatabase>";
  }

  private static Track read(String text) {
    Drops drops = GpxReaderTest.usable(GpxReaderTest.read(text)).drops();
    assertThat(drops.kept() + drops.dropped()).isEqualTo(drops.seen());
    return GpxReaderTest.usable(GpxReaderTest.read(text)).track();
  }

  @Test
  void aPointHasItsPlaceHeightTimeDistanceSpeedAndCadence() {
    String rest =
        position(52.5, -13.25)
            + "<AltitudeMeters>34.5</AltitudeMeters><DistanceMeters>3.12</DistanceMeters>"
            + "<Cadence>83</Cadence><Extensions><x:TPX xmlns:x=\"urn:y\"><x:Speed>3.1</x:Speed>"
            + "</x:TPX></Extensions>";
    Track t = read(file(lap(0, "10", "3.12", track(point(0, rest)))));
    assertThat(t.format()).isEqualTo("tcx");
    assertThat(t.latitudesDeg()).containsExactly(52.5);
    assertThat(t.longitudesDeg()).containsExactly(-13.25);
    assertThat(t.heightsM()).containsExactly(34.5);
    assertThat(t.distancesM()).containsExactly(3.12);
    assertThat(t.speedsMps()).containsExactly(3.1);
    assertThat(t.cadencesPerMin()).containsExactly(83);
    assertThat(t.startedAt()).contains(START);
  }

  @Test
  void aNewLapGoesOnWhereTheLastOneEndedAndNoMetreIsLost() {
    Track t =
        read(
            file(
                lap(0, "2", "200", track(point(0, 1.000), point(1, 1.001), point(2, 1.002))),
                lap(2, "2", "200", track(point(3, 1.003), point(4, 1.004)))));
    assertThat(t.segments()).isEqualTo(1);
    assertThat(t.size()).isEqualTo(5);
    assertThat(t.claimedTotalM()).hasValue(400);
  }

  @Test
  void aFixThatEndsOneLapAndBeginsTheNextCountsOnce() {
    String text =
        file(
            lap(0, "2", "1", track(point(0, 1.0), point(2, 1.2))),
            lap(2, "2", "1", track(point(2, 1.2), point(4, 1.4))));
    assertThat(read(text).size()).isEqualTo(3);
    Drops drops = GpxReaderTest.usable(GpxReaderTest.read(text)).drops();
    assertThat(drops.count(Issue.Kind.EXACT_DUPLICATE)).isEqualTo(1);
  }

  @Test
  void aSecondTrackInsideALapBeginsAfterAPause() {
    Track t =
        read(
            file(
                lap(
                    0,
                    "2",
                    "1",
                    track(point(0, 1.0), point(1, 1.1)),
                    track(point(60, 1.2), point(61, 1.3)))));
    assertThat(t.segments()).isEqualTo(2);
    assertThat(t.segmentStart(1)).isEqualTo(2);
  }

  @Test
  void aTimerThatStoodBetweenTwoLapsCutsThere() {
    // The first lap's timer ran 2 s from its start; the next lap starts a minute later.
    Track t =
        read(
            file(
                lap(0, "2", "1", track(point(0, 1.0), point(2, 1.2))),
                lap(62, "2", "1", track(point(62, 1.3), point(64, 1.4)))));
    assertThat(t.segments()).isEqualTo(2);
  }

  @Test
  void aPauseInsideALapIsNotTakenForOneBehindIt() {
    // Timer 3 s, one pause of 59 s between its tracks: it ends at 62 s, when the next begins.
    Track t =
        read(
            file(
                lap(
                    0,
                    "3",
                    "1",
                    track(point(0, 1.0), point(1, 1.1)),
                    track(point(60, 1.1), point(62, 1.3))),
                lap(62, "2", "1", track(point(63, 1.4), point(64, 1.5)))));
    assertThat(t.segments()).isEqualTo(2);
  }

  @Test
  void aDistanceThatBeginsAnewWithEachLapGoesOn() {
    Track t =
        read(
            file(
                lap(
                    0,
                    "2",
                    "20",
                    track(
                        point(0, position(1, 1.0) + "<DistanceMeters>0</DistanceMeters>"),
                        point(2, position(1, 1.2) + "<DistanceMeters>20</DistanceMeters>"))),
                lap(
                    2,
                    "2",
                    "20",
                    track(
                        point(3, position(1, 1.3) + "<DistanceMeters>10</DistanceMeters>"),
                        point(4, position(1, 1.4) + "<DistanceMeters>20</DistanceMeters>")))));
    assertThat(t.distancesM()).containsExactly(0, 20, 30, 40);
  }

  @Test
  void aPointWithoutAPositionIsLeftOutAndCounted() {
    String text =
        file(
            lap(0, "2", "1", track(point(0, "<DistanceMeters>0</DistanceMeters>"), point(1, 1.1))));
    assertThat(read(text).size()).isEqualTo(1);
    Drops drops = GpxReaderTest.usable(GpxReaderTest.read(text)).drops();
    assertThat(drops.count(Issue.Kind.NO_POSITION)).isEqualTo(1);
    assertThat(drops.seen()).isEqualTo(2);
  }

  @Test
  void lapsAreTheDevicesClaim() {
    Track t = read(file(lap(0, "61.5", "402.1", track(point(0, 1.0)))));
    assertThat(t.laps())
        .containsExactly(
            new ClaimedLap(
                Optional.of(START),
                Optional.empty(),
                OptionalDouble.of(402.1),
                OptionalDouble.of(61.5)));
  }

  @Test
  void theCreatorOfTheActivityIsTheDeviceAndTheAuthorOfTheFileIsNot() {
    String creator =
        "<Creator><Name>Test Box</Name><UnitId>31415</UnitId><ProductID>27</ProductID><Version>"
            + "<VersionMajor>4</VersionMajor><VersionMinor>10</VersionMinor>"
            + "<BuildMajor>0</BuildMajor><BuildMinor>0</BuildMinor></Version></Creator>";
    String text =
        file(lap(0, "1", "1", track(point(0, 1.0))), creator)
            .replace("</Activities>", "</Activities><Author><Name>Other</Name></Author>");
    DeviceClaim expected =
        new DeviceClaim(
            Optional.of("Test Box"), Optional.of("27"), Optional.of("31415"), Optional.of("4.10"));
    assertThat(read(text).claim()).isEqualTo(expected);
    String withBuild = text.replace("<BuildMajor>0<", "<BuildMajor>2<");
    assertThat(read(withBuild).claim().software()).contains("4.10.2.0");
  }

  @Test
  void aFileThatBreaksOffKeepsItsFixes() {
    String whole = file(lap(0, "2", "1", track(point(0, 1.0), point(1, 1.1), point(2, 1.2))));
    String half = whole.substring(0, whole.indexOf("<LatitudeDegrees>", whole.indexOf(at(2))));
    Drops drops = GpxReaderTest.usable(GpxReaderTest.read(half)).drops();
    assertThat(drops.kept()).isEqualTo(2);
    assertThat(drops.truncated()).isTrue();
    assertThat(drops.kept() + drops.dropped()).isEqualTo(drops.seen());
  }

  @Test
  void anActivityWithoutPointsIsRefused() {
    Issue why = GpxReaderTest.refused(GpxReaderTest.read(file(lap(0, "1", "1"))));
    assertThat(why.kind()).isEqualTo(Issue.Kind.NO_FIXES);
    assertThat(why.detail()).isEqualTo("no track points");
  }
}
