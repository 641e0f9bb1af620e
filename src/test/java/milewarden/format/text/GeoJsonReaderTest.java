package milewarden.format.text;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/** Files are written out here by RFC 7946. */
final class GeoJsonReaderTest {
  private static final long T0 = Instant.parse("2026-05-12T07:00:00Z").toEpochMilli();

  private static String feature(String type, String coordinates, String properties) {
    return ("{'type':'Feature','properties':{"
            + properties
            + "},'geometry':{'type':'"
            + type
            + "','coordinates':"
            + coordinates
            + "}}")
        .replace('\'', '"');
  }

  private static String all(String... features) {
    return "{\"type\":\"FeatureCollection\",\"features\":[" + String.join(",", features) + "]}";
  }

  private static Track track(String text) {
    return Reading.usable(text).track();
  }

  @Test
  void aLineIsLongitudeLatitudeAndPerhapsAHeight() {
    Track t = track(feature("LineString", "[[13.25,52.5,34.5],[13.26,-52.5]]", ""));
    assertThat(t.format()).isEqualTo("geojson");
    assertThat(t.latitudesDeg()).containsExactly(52.5, -52.5);
    assertThat(t.longitudesDeg()).containsExactly(13.25, 13.26);
    assertThat(t.heightsM()).containsExactly(34.5, Double.NaN);
  }

  @Test
  void everyLineOfSeveralIsASegmentWhereverItsTypeStands() {
    String behind = "{\"coordinates\":[[[1,1],[2,2]],[[3,3]]],\"type\":\"MultiLineString\"}";
    assertThat(track(behind).segments()).isEqualTo(2);
    String two =
        all(feature("LineString", "[[1,1],[2,2]]", ""), feature("LineString", "[[3,3]]", ""));
    assertThat(track(two).segments()).isEqualTo(2);
    String collection = "{\"type\":\"GeometryCollection\",\"geometries\":[" + behind + "]}";
    assertThat(track(collection).size()).isEqualTo(3);
  }

  @Test
  void aLineThatBreaksOffInsideAnotherGeometryIsReadAsFar() {
    String text =
        "{'type':'Point','geometry':{'type':'LineString','coordinates':[[1,1],[2,2],[3x"
            .replace('\'', '"');
    assertThat(track(text).latitudesDeg()).containsExactly(1, 2);
    assertThat(Reading.usable(text).drops().truncated()).isTrue();
  }

  @Test
  void timesOfALineStandInItsProperties() {
    String times = "'coordTimes':['2026-05-12T07:00:00Z','2026-05-12T07:00:01Z']";
    assertThat(track(feature("LineString", "[[1,1],[2,2]]", times)).timesMs())
        .containsExactly(T0, T0 + 1000);
    String nested = "'coordinateProperties':{'times':[[1778569200000],[1778569201000]]}";
    assertThat(track(feature("MultiLineString", "[[[1,1]],[[2,2]]]", nested)).timesMs())
        .containsExactly(T0, T0 + 1000);
  }

  @Test
  void timesThatAreNotAsManyAsPositionsAreNotUsed() {
    String times = "'times':['2026-05-12T07:00:00Z']";
    String text = feature("LineString", "[[1,1],[2,2]]", times);
    assertThat(track(text).startedAt()).isEmpty();
    Drops d = Reading.usable(text).drops();
    assertThat(d.count(Issue.Kind.VALUE_UNREADABLE)).isEqualTo(1);
    assertThat(d.count(Issue.Kind.TIME_MISSING)).isEqualTo(2);
  }

  @Test
  void pointsWithTimesAreATrackWhereThereIsNoLine() {
    String a = feature("Point", "[1,1]", "'time':'2026-05-12T07:00:00Z'");
    String b = feature("Point", "[1,2]", "'time':'2026-05-12T07:00:01Z'");
    String mark = feature("Point", "[9,9]", "'name':'start'");
    assertThat(track(all(a, mark, b)).timesMs()).containsExactly(T0, T0 + 1000);
    assertThat(track(all(a, b, feature("LineString", "[[1,1],[2,2],[3,3]]", ""))).size())
        .isEqualTo(3);
    assertThat(Reading.refused(all(mark)).detail())
        .isEqualTo("1 points without a time, and no line");
  }

  @Test
  void anAreaIsNoPath() {
    String area = feature("Polygon", "[[[0,0],[1,0],[1,1],[0,0]]]", "");
    assertThat(Reading.refused(area).kind()).isEqualTo(Issue.Kind.NO_FIXES);
    assertThat(track(all(area, feature("LineString", "[[1,1],[2,2]]", ""))).size()).isEqualTo(2);
  }

  @Test
  void aReferenceCourseIsNoRecording() {
    String course = feature("LineString", "[[1,1],[2,2]]", "'measured_length_m':400");
    Issue why = Reading.refused(course);
    assertThat(why.kind()).isEqualTo(Issue.Kind.NOT_A_TRACK);
    assertThat(why.detail()).contains("courses folder");
  }

  @Test
  void whatIsNoPositionIsLeftOutAndCounted() {
    Drops d =
        Reading.usable(feature("LineString", "[[1,1],[null,2],['a',2],[1],[1,95]]", "")).drops();
    assertThat(d.kept()).isEqualTo(1);
    assertThat(d.count(Issue.Kind.POSITION_NOT_A_NUMBER)).isEqualTo(3);
    assertThat(d.count(Issue.Kind.POSITION_OUT_OF_RANGE)).isEqualTo(1);
  }

  @Test
  void aFileThatBreaksOffKeepsItsFixes() {
    String whole = all(feature("LineString", "[[1,1],[2,2],[3,3]]", ""));
    Drops d = Reading.usable(whole.substring(0, whole.indexOf("[3,"))).drops();
    assertThat(d.kept()).isEqualTo(2);
    assertThat(d.truncated()).isTrue();
    String points =
        all(feature("Point", "[1,1]", "'time':'2026-05-12T07:00:00Z'"), "{\"type\":\"Fea");
    assertThat(Reading.usable(points.substring(0, points.length() - 2)).drops().truncated())
        .isTrue();
  }

  @Test
  void nestsAndNonsenseAreRefused() {
    assertThat(Reading.refused("{\"a\":" + "[".repeat(100)).kind()).isEqualTo(Issue.Kind.TOO_DEEP);
    assertThat(Reading.refused("{\"type\":\"Topology\"}").kind()).isEqualTo(Issue.Kind.NOT_A_TRACK);
    assertThat(Reading.refused("{nonsense").kind()).isEqualTo(Issue.Kind.MALFORMED);
  }
}
