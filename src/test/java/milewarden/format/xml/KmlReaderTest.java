package milewarden.format.xml;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import milewarden.format.TrackFormats;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;
import org.junit.jupiter.api.Test;

/** Files are written out here by the OGC KML standard (12-007r2); no sample of anyone's. */
final class KmlReaderTest {
  private static String kml(String inDocument) {
    return "<?xml version=\"1.0\"?><kml xmlns=\"urn:any\" xmlns:gx=\"urn:more\"><Document>"
        + inDocument
        + "</Document></kml>";
  }

  private static String line(String coordinates) {
    return "<Placemark><LineString><coordinates>"
        + coordinates
        + "</coordinates></LineString></Placemark>";
  }

  private static String timed(String inTrack) {
    return "<Placemark><gx:Track>" + inTrack + "</gx:Track></Placemark>";
  }

  private static String when(int second) {
    return "<when>" + Instant.parse("2026-05-12T07:00:00Z").plusSeconds(second) + "</when>";
  }

  private static String coord(String text) {
    return "<gx:coord>" + text + "</gx:coord>";
  }

  private static TrackRead.Usable read(String inDocument) {
    TrackRead.Usable read = GpxReaderTest.usable(GpxReaderTest.read(kml(inDocument)));
    Drops d = read.drops();
    assertThat(d.kept() + d.dropped()).isEqualTo(d.seen());
    return read;
  }

  @Test
  void anElementNamedAsADeclarationEndsTheReadingAndNotTheProgram() {
    String text =
        "<kml><Placemark><LineString><coordinates>2,1</coordinates></LineString><xmlns:a=\"u\"><b>";
    ByteArrayInputStream bytes = new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8));
    int kept = TrackFormats.read(bytes).fold(u -> u.track().size(), r -> -1);
    assertThat(kept).isEqualTo(1);
  }

  @Test
  void aLineIsLongitudeLatitudeAndPerhapsAHeight() {
    Track t = read(line("\n 13.25,52.5,34.5\n\t13.26,-52.5 ")).track();
    assertThat(t.format()).isEqualTo("kml");
    assertThat(t.latitudesDeg()).containsExactly(52.5, -52.5);
    assertThat(t.longitudesDeg()).containsExactly(13.25, 13.26);
    assertThat(t.heightsM()).containsExactly(34.5, Double.NaN);
    assertThat(t.startedAt()).isEmpty();
  }

  @Test
  void aCommentInsideCoordinatesPartsNothing() {
    // By XML the text goes on behind a comment as if it were not there.
    Track t = read(line("13.25,52.5 13.<!-- a note, 1,2 3 -->26,52.6")).track();
    assertThat(t.longitudesDeg()).containsExactly(13.25, 13.26);
  }

  @Test
  void aBlankBehindACommaIsASlip() {
    Track t = read(line("13.25, 52.5, 1 13.26, 52.6, 2")).track();
    assertThat(t.latitudesDeg()).containsExactly(52.5, 52.6);
    assertThat(t.heightsM()).containsExactly(1, 2);
  }

  @Test
  void linesAreSegmentsAndAreNotJoined() {
    Track t = read(line("1,1 2,2") + line("3,3 4,4")).track();
    assertThat(t.segments()).isEqualTo(2);
    assertThat(t.segmentStart(1)).isEqualTo(2);
  }

  @Test
  void aTimedTrackPairsItsTimesAndPositionsInOrder() {
    String apart = when(0) + when(1) + coord("13.25 52.5 34.5") + coord("13.26 52.6");
    String mixed = when(0) + coord("13.25 52.5 34.5") + when(1) + coord("13.26 52.6");
    for (String inTrack : new String[] {apart, mixed}) {
      Track t = read(timed(inTrack)).track();
      assertThat(t.longitudesDeg()).containsExactly(13.25, 13.26);
      assertThat(t.endedAt()).contains(Instant.parse("2026-05-12T07:00:01Z"));
      assertThat(t.heightsM()).containsExactly(34.5, Double.NaN);
    }
  }

  @Test
  void aTimeWithoutAPositionIsLeftOutAndTheOthersKeepTheirPairs() {
    String inTrack =
        when(0) + when(1) + when(2) + coord("1 1") + "<gx:coord/>" + coord("3 3") + coord("4 4");
    TrackRead.Usable read = read(timed(inTrack));
    assertThat(read.track().longitudesDeg()).containsExactly(1, 3, 4);
    assertThat(read.track().timesMs()[1])
        .isEqualTo(Instant.parse("2026-05-12T07:00:02Z").toEpochMilli());
    assertThat(read.drops().count(Issue.Kind.NO_POSITION)).isEqualTo(1);
    assertThat(read.drops().count(Issue.Kind.TIME_MISSING)).isEqualTo(1);
  }

  @Test
  void thePathOfATrackThatIsDrawnAsALineTooIsReadOnce() {
    String track = timed(when(0) + when(1) + coord("13.2512341 52.5") + coord("13.26 52.6"));
    String line = line("13.251234,52.5,0 13.26,52.6,0");
    for (String both : new String[] {track + line, line + track}) {
      TrackRead.Usable read = read(both);
      assertThat(read.track().size()).isEqualTo(2);
      assertThat(read.track().hasTime(0)).isTrue();
      assertThat(read.drops().count(Issue.Kind.SAME_PATH_TWICE)).isEqualTo(2);
    }
  }

  @Test
  void aLineThatIsAnotherPathThanTheTrackIsSaidToBeOne() {
    TrackRead.Usable read = read(timed(when(0) + coord("1 1")) + line("5,5 6,6 7,7"));
    assertThat(read.track().size()).isEqualTo(1);
    assertThat(read.drops().count(Issue.Kind.LINE_BESIDE_TRACK)).isEqualTo(3);
  }

  @Test
  void ofTwoEqualLinesTheFirstIsRead() {
    TrackRead.Usable read = read(line("1,1 2,2") + line("3,3 4,4") + line("1,1 2,2"));
    assertThat(read.track().size()).isEqualTo(4);
    assertThat(read.drops().count(Issue.Kind.SAME_PATH_TWICE)).isEqualTo(2);
  }

  @Test
  void whatIsNoNumberIsLeftOutAndShown() {
    TrackRead.Usable read = read(line("1,1 one,two 3 4,4,high"));
    assertThat(read.track().size()).isEqualTo(2);
    assertThat(read.drops().count(Issue.Kind.POSITION_NOT_A_NUMBER)).isEqualTo(2);
    assertThat(read.drops().count(Issue.Kind.HEIGHT_UNREADABLE)).isEqualTo(1);
  }

  @Test
  void singlePointsAreNoTrack() {
    String point = "<Placemark><Point><coordinates>1,1</coordinates></Point></Placemark>";
    Issue why = GpxReaderTest.refused(GpxReaderTest.read(kml(point)));
    assertThat(why.kind()).isEqualTo(Issue.Kind.NO_FIXES);
    assertThat(why.detail()).isEqualTo("1 single points, no line and no track");
  }

  @Test
  void aLineOfManyPiecesIsTheSameAsTheNumbersWritten() {
    StringBuilder text = new StringBuilder();
    int n = 40_000;
    for (int i = 0; i < n; i++) text.append(10 + i / 1e6).append(",52.5,3.25\n");
    Track t = read(line(text.toString())).track();
    assertThat(t.size()).isEqualTo(n);
    for (int i = 0; i < n; i++) assertThat(t.longitudesDeg()[i]).isEqualTo(10 + i / 1e6);
  }
}
