package milewarden.format.xml;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Optional;
import milewarden.format.TrackFormats;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Files are written out here by the GPX 1.0 and 1.1 schemas; no sample of anyone's. */
final class GpxReaderTest {
  private static final String OPEN =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\" creator=\"Test Box 2.10.3\""
          + " xmlns=\"http://www.topografix.com/GPX/1/1\">\n";

  static String point(double lat, double lon, String children) {
    return "<trkpt lat=\"" + lat + "\" lon=\"" + lon + "\">" + children + "</trkpt>\n";
  }

  static String time(String text) {
    return "<time>" + text + "</time>";
  }

  private static String gpx(String... points) {
    return OPEN + "<trk><trkseg>\n" + String.join("", points) + "</trkseg></trk>\n</gpx>\n";
  }

  static TrackRead read(String text) {
    return read(text.getBytes(StandardCharsets.UTF_8));
  }

  static TrackRead read(byte[] bytes) {
    return TrackFormats.read(new ByteArrayInputStream(bytes));
  }

  static TrackRead.Usable usable(TrackRead read) {
    return read.fold(
        u -> u,
        r -> {
          throw new AssertionError("refused: " + r.why());
        });
  }

  static Issue refused(TrackRead read) {
    return read.fold(
        u -> {
          throw new AssertionError("read: " + u.drops());
        },
        r -> r.why());
  }

  private static Track track(String text) {
    return usable(read(text)).track();
  }

  private static Drops drops(String text) {
    Drops drops = usable(read(text)).drops();
    assertThat(drops.kept() + drops.dropped()).isEqualTo(drops.seen());
    return drops;
  }

  private static final String T0 = time("2026-05-12T07:00:00Z");
  private static final String T1 = time("2026-05-12T07:00:01Z");
  private static final String T2 = time("2026-05-12T07:00:02Z");

  @Test
  void aFixHasItsPlaceHeightAndTime() {
    Track t = track(gpx(point(52.5, 13.25, "<ele>34.5</ele>" + T0), point(52.6, -13.5, T1)));
    assertThat(t.format()).isEqualTo("gpx");
    assertThat(t.latitudesDeg()).containsExactly(52.5, 52.6);
    assertThat(t.longitudesDeg()).containsExactly(13.25, -13.5);
    assertThat(t.heightsM()).containsExactly(34.5, Double.NaN);
    assertThat(t.startedAt()).contains(Instant.parse("2026-05-12T07:00:00Z"));
    assertThat(t.endedAt()).contains(Instant.parse("2026-05-12T07:00:01Z"));
    assertThat(t.distancesM()).isEmpty();
    assertThat(t.speedsMps()).isEmpty();
  }

  @Test
  void theCadenceOfAFixIsReadByItsLocalName() {
    String cad = "<extensions><a:more xmlns:a=\"urn:x\"><a:cad>83</a:cad></a:more></extensions>";
    Track t = track(gpx(point(1, 1, T0 + cad), point(1, 2, T1)));
    assertThat(t.cadencesPerMin()).containsExactly(83, Double.NaN);
    assertThat(track(gpx(point(1, 1, T0))).cadencesPerMin()).isEmpty();
  }

  @Test
  void theCreatorIsANameAndPerhapsAVersion() {
    Track t = track(gpx(point(1, 2, T0)));
    assertThat(t.claim().name()).contains("Test Box");
    assertThat(t.claim().software()).contains("2.10.3");
    Track bare = track(gpx(point(1, 2, T0)).replace("Test Box 2.10.3", "Test Box 2"));
    assertThat(bare.claim().name()).contains("Test Box 2");
    assertThat(bare.claim().software()).isEmpty();
  }

  @Test
  void tracksAndSegmentsAreNeverJoined() {
    String text =
        OPEN
            + "<trk><trkseg>"
            + point(1, 1, T0)
            + point(1, 1.1, T1)
            + "</trkseg><trkseg/>"
            + "<trkseg>"
            + point(1, 2, T2)
            + "</trkseg></trk>"
            + "<trk><name>second</name><trkseg>"
            + point(1, 3, "")
            + "</trkseg></trk></gpx>";
    Track t = track(text);
    assertThat(t.segments()).isEqualTo(3);
    assertThat(t.segmentStart(1)).isEqualTo(2);
    assertThat(t.segmentStart(2)).isEqualTo(3);
  }

  @Test
  void aMissingTimeStaysMissing() {
    String text = gpx(point(1, 1, ""), point(1, 2, T1), point(1, 3, "<ele>2</ele>"));
    Track t = track(text);
    assertThat(t.timesMs()[0]).isEqualTo(Track.NO_TIME);
    assertThat(t.timesMs()[2]).isEqualTo(Track.NO_TIME);
    assertThat(drops(text).count(Issue.Kind.TIME_MISSING)).isEqualTo(2);
  }

  @Test
  void anUnreadableTimeIsSaidWithItsLineAndTheFixKept() {
    String text = gpx(point(1, 1, T0), point(1, 2, time("half past")));
    Drops d = drops(text);
    assertThat(d.kept()).isEqualTo(2);
    assertThat(d.details()).contains(Issue.at(Issue.Kind.TIME_UNREADABLE, "line 5", "half past"));
    assertThat(d.count(Issue.Kind.TIME_MISSING)).isZero();
  }

  @Test
  void aTimeWithoutAZoneIsReadAsUtcAndSaid() {
    String text = gpx(point(1, 1, time("2026-05-12T07:00:00")));
    assertThat(track(text).startedAt()).contains(Instant.parse("2026-05-12T07:00:00Z"));
    assertThat(drops(text).count(Issue.Kind.TIME_WITHOUT_ZONE)).isEqualTo(1);
  }

  @Test
  void timesThatRepeatOrGoBackAreCountedAndKeptInTheFilesOrder() {
    String text = gpx(point(1, 1, T1), point(1, 2, T1), point(1, 3, T0), point(1, 4, T2));
    Drops d = drops(text);
    assertThat(d.count(Issue.Kind.TIME_REPEATED)).isEqualTo(1);
    assertThat(d.count(Issue.Kind.TIME_GOES_BACK)).isEqualTo(1);
    assertThat(d.kept()).isEqualTo(4);
  }

  @Test
  void aDateFromBeforeTheSystemIsImplausible() {
    String text = gpx(point(1, 1, time("1970-01-01T00:00:00Z")));
    assertThat(drops(text).count(Issue.Kind.TIME_IMPLAUSIBLE)).isEqualTo(1);
  }

  @Test
  void whatIsNoPlaceIsDroppedAndCountedByReason() {
    String text =
        gpx(
            point(1, 1, T0),
            point(0, 0, T1),
            point(180, 180, T1),
            "<trkpt lat=\"179.99999991618097\" lon=\"179.99999991618097\"/>",
            point(91, 1, T1),
            point(1, -181, T1),
            "<trkpt lat=\"1e999\" lon=\"1\"/>",
            "<trkpt lat=\"NaN\" lon=\"1\"/>",
            "<trkpt lat=\"\" lon=\"1\"/>",
            "<trkpt lat=\"52,5\" lon=\"13,2\"/>",
            "<trkpt lon=\"1\"/>",
            "<trkpt/>",
            point(1, 1, T0),
            point(1, 1, T2));
    Drops d = drops(text);
    assertThat(d.seen()).isEqualTo(14);
    assertThat(d.kept()).isEqualTo(2);
    assertThat(d.count(Issue.Kind.POSITION_SENTINEL)).isEqualTo(3);
    assertThat(d.count(Issue.Kind.POSITION_OUT_OF_RANGE)).isEqualTo(3);
    assertThat(d.count(Issue.Kind.POSITION_NOT_A_NUMBER)).isEqualTo(3);
    assertThat(d.count(Issue.Kind.NO_POSITION)).isEqualTo(2);
    assertThat(d.count(Issue.Kind.EXACT_DUPLICATE)).isEqualTo(1);
  }

  @Test
  void theEdgesOfTheGlobeArePlaces() {
    assertThat(track(gpx(point(90, 180, T0), point(-90, -180, T1), point(0, 1, T2))).size())
        .isEqualTo(3);
  }

  @Test
  void detailsAreCappedButCountsAreExact() {
    String[] points = new String[500];
    for (int i = 0; i < points.length; i++) points[i] = point(i == 0 ? 1 : 0, 0, "");
    Drops d = drops(gpx(points));
    assertThat(d.count(Issue.Kind.POSITION_SENTINEL)).isEqualTo(499);
    assertThat(d.details().size()).isLessThan(10);
  }

  @Test
  void version10CarriesSpeedInTheFix() {
    String text =
        ("<gpx version=\"1.0\" creator=\"x\"><trk><trkseg>"
            + point(1, 1, T0 + "<course>90</course><speed>2.5</speed>")
            + point(1, 2, T1)
            + "</trkseg></trk></gpx>");
    assertThat(track(text).speedsMps()).containsExactly(2.5, Double.NaN);
    assertThat(drops(text).count(Issue.Kind.ODD_VERSION)).isZero();
  }

  @Test
  void extensionsCarrySpeedAndCumulativeDistanceByLocalName() {
    String ext =
        "<extensions><a:Point xmlns:a=\"urn:x\"><a:speed>3</a:speed><a:distance>%s</a:distance>"
            + "<a:time>never</a:time><a:ele>9</a:ele></a:Point></extensions>";
    String text =
        gpx(
            point(1, 1, T0 + String.format(ext, "0")),
            point(1, 2, T1),
            point(1, 3, T2 + String.format(ext, "12.5")));
    Track t = track(text);
    assertThat(t.speedsMps()).containsExactly(3, Double.NaN, 3);
    assertThat(t.distancesM()).containsExactly(0, Double.NaN, 12.5);
    assertThat(t.heightsM()).isEmpty();
    assertThat(t.timesMs()[2] - t.timesMs()[0]).isEqualTo(2000);
  }

  @Test
  void aDistanceThatBeginsAgainAtASegmentGoesOn() {
    String d = "<extensions><distance>%d</distance></extensions>";
    String text =
        OPEN
            + "<trk><trkseg>"
            + point(1, 1, String.format(d, 5))
            + point(1, 2, String.format(d, 20))
            + "</trkseg><trkseg>"
            + point(1, 3, String.format(d, 3))
            + point(1, 4, String.format(d, 9))
            + "</trkseg></trk></gpx>";
    assertThat(track(text).distancesM()).containsExactly(5, 20, 23, 29);
  }

  @Test
  void aDistanceThatGoesBackIsNoCumulativeDistance() {
    String d = "<extensions><distance>%d</distance></extensions>";
    String text = gpx(point(1, 1, String.format(d, 5)), point(1, 2, String.format(d, 4)));
    assertThat(track(text).distancesM()).isEmpty();
    assertThat(drops(text).count(Issue.Kind.VALUE_UNREADABLE)).isEqualTo(1);
  }

  @Test
  void theTracksOwnTotalIsTakenWhereItCanBeMetres() {
    String text =
        OPEN
            + "<trk><extensions><distance>%s</distance></extensions><trkseg>"
            + point(50, 10, T0)
            + point(50.01, 10, T1)
            + "</trkseg></trk></gpx>";
    assertThat(track(String.format(text, "1100")).claimedTotalM()).hasValue(1100);
    String kilometres = String.format(text, "1.1");
    assertThat(track(kilometres).claimedTotalM()).isEmpty();
    assertThat(drops(kilometres).count(Issue.Kind.VALUE_UNREADABLE)).isEqualTo(1);
  }

  @Test
  void namespacesPrefixesAndOddVersionsDoNotMatter() {
    String text =
        "<g:gpx xmlns:g=\"urn:whatever\" version=\"7\"><g:trk><g:trkseg>"
            + "<g:trkpt lat=\"1\" lon=\"2\"><g:time>2026-05-12T07:00:00Z</g:time></g:trkpt>"
            + "</g:trkseg></g:trk></g:gpx>";
    assertThat(track(text).hasTime(0)).isTrue();
    assertThat(drops(text).count(Issue.Kind.ODD_VERSION)).isEqualTo(1);
  }

  @ParameterizedTest
  @ValueSource(strings = {"UTF-8", "UTF-16LE", "UTF-16BE"})
  void aByteOrderMarkIsRead(String encoding) {
    String text =
        "\ufeff"
            + gpx(point(1, 2, T0))
                .replace("UTF-8", encoding.substring(0, 5).equals("UTF-1") ? "UTF-16" : "UTF-8");
    assertThat(usable(read(text.getBytes(Charset.forName(encoding)))).track().size()).isEqualTo(1);
  }

  @Test
  void otherDeclaredEncodingsAreRead() {
    byte[] latin =
        gpx(point(1, 2, T0))
            .replace("UTF-8", "ISO-8859-1")
            .replace("Test Box 2.10.3", "Gerät")
            .getBytes(StandardCharsets.ISO_8859_1);
    assertThat(usable(read(latin)).track().claim().name()).contains("Gerät");
  }

  @Test
  void blankLinesBeforeTheDeclarationAreForgivenAndLinesStillRight() {
    String text = "\n\n" + gpx(point(1, 2, T0), point(1, 2, time("x")));
    Drops d = drops(text);
    assertThat(d.details()).contains(Issue.at(Issue.Kind.TIME_UNREADABLE, "line 7", "x"));
  }

  @Test
  void commentsAndCharacterDataInsideAValueDoNotCutIt() {
    Track t = track(gpx(point(1, 2, "<ele>1<!-- x -->2<![CDATA[.5]]></ele>" + T0)));
    assertThat(t.heightsM()).containsExactly(12.5);
  }

  @Test
  void aFileCutShortGivesWhatWasReadAndSaysSo() {
    String whole = gpx(point(1, 1, T0), point(1, 2, T1), point(1, 3, T2));
    String cut = whole.substring(0, whole.indexOf("lat=\"1.0\" lon=\"3.0\""));
    Drops d = drops(cut);
    assertThat(d.kept()).isEqualTo(2);
    assertThat(d.truncated()).isTrue();
    assertThat(d.details().get(0).place())
        .hasValueSatisfying(p -> assertThat(p).startsWith("line 6"));
  }

  @Test
  void aFixCutInTheMiddleCountsWithWhatWasReadOfIt() {
    String whole = gpx(point(1, 1, T0), point(1, 2, "<ele>12</ele>" + T1));
    String cut = whole.substring(0, whole.indexOf("07:00:01"));
    TrackRead.Usable read = usable(read(cut));
    assertThat(read.drops().seen()).isEqualTo(2);
    assertThat(read.drops().kept()).isEqualTo(2);
    assertThat(read.track().heightsM()[1]).isEqualTo(12);
    assertThat(read.track().hasTime(1)).isFalse();
  }

  @Test
  void aSecondDocumentBehindTheFirstIsSaid() {
    assertThat(drops(gpx(point(1, 1, T0)) + gpx(point(1, 1, T1))).truncated()).isTrue();
  }

  @Test
  void damageWithoutAnyFixIsRefusedWithLineAndColumn() {
    Issue why = refused(read(OPEN + "<trk><trkseg></trk>"));
    assertThat(why.kind()).isEqualTo(Issue.Kind.MALFORMED);
    assertThat(why.place()).hasValueSatisfying(p -> assertThat(p).startsWith("line 3, column "));
    assertThat(why.detail()).isNotBlank();
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "   \n", "hello", "{\"a\":1}", "\u0000\u0001\u0002", ",;,"})
  void whatIsNoMarkupIsNoTrack(String text) {
    assertThat(refused(read(text)).kind()).isEqualTo(Issue.Kind.NOT_A_TRACK);
  }

  @Test
  void anotherKindOfMarkupIsNamed() {
    Issue why = refused(read("<?xml version='1.0'?><html><body/></html>"));
    assertThat(why.kind()).isEqualTo(Issue.Kind.NOT_A_TRACK);
    assertThat(why.detail()).contains("html");
  }

  @Test
  void routesAndWaypointsAloneAreRefusedAndSaidSo() {
    String text =
        OPEN
            + "<wpt lat=\"1\" lon=\"2\"/><rte><rtept lat=\"1\" lon=\"2\"/><rtept lat=\"1\""
            + " lon=\"3\"/></rte></gpx>";
    Issue why = refused(read(text));
    assertThat(why.kind()).isEqualTo(Issue.Kind.NO_FIXES);
    assertThat(why.detail()).isEqualTo("1 waypoints and 2 route points, but no track points");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "<rte><rtept lat=\"1\" lon=\"2\"/><rtept lat=\"1.001\" lon=\"2\"/>\n",
        "<rte><rtept lat=\"1\" lon=\"2\"/><rtept lat=\"1.001\" lo",
        "<rte><rtept lat=\"1\" lon=\"2\"/></rte>",
        "<wpt lat=\"1\" lon=\"2\"/>",
        "<trk><trkseg>"
      })
  void aFileThatBreaksOffBeforeAnyTrackPointIsToldToLackItsEnd(String begun) {
    Issue why = refused(read(OPEN + begun));
    assertThat(why.kind()).isEqualTo(Issue.Kind.MALFORMED);
    assertThat(why.place()).isPresent();
    assertThat(why.detail()).contains("its end is missing");
  }

  @Test
  void aTrackOfNothingButSentinelsIsRefusedWithItsCount() {
    Issue why = refused(read(gpx(point(0, 0, T0), point(0, 0, T1))));
    assertThat(why.kind()).isEqualTo(Issue.Kind.NO_FIXES);
    assertThat(why.detail()).contains("2 track points");
  }

  @Test
  void aDocumentTypeIsRefusedWhateverItSays() {
    String bomb =
        "<?xml version=\"1.0\"?>\n<!DOCTYPE gpx [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;&a;\">]>\n"
            + "<gpx version=\"1.1\"><trk><trkseg>"
            + point(1, 1, T0)
            + "</trkseg></trk></gpx>";
    assertThat(refused(read(bomb)).kind()).isEqualTo(Issue.Kind.DOCTYPE);
    String external = bomb.replaceAll("\\[.*]", "SYSTEM \"file:///etc/hostname\"");
    assertThat(refused(read(external)).kind()).isEqualTo(Issue.Kind.DOCTYPE);
  }

  @Test
  void limitsOfFixesDepthAndBytesRefuse() {
    String text = gpx(point(1, 1, T0), point(1, 2, T1), point(1, 3, T2));
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    assertThat(refused(limited(bytes, new ReadLimits(1 << 20, 64, 2))).kind())
        .isEqualTo(Issue.Kind.TOO_MANY_FIXES);
    assertThat(refused(limited(bytes, new ReadLimits(1 << 20, 4, 10))).kind())
        .isEqualTo(Issue.Kind.TOO_DEEP);
    assertThat(
            refused(
                    limited(
                        (text + "\n".repeat(9000)).getBytes(StandardCharsets.UTF_8),
                        new ReadLimits(5000, 64, 10)))
                .kind())
        .isEqualTo(Issue.Kind.TOO_LARGE);
    assertThat(usable(limited(bytes, new ReadLimits(1 << 20, 5, 3))).track().size()).isEqualTo(3);
  }

  private static TrackRead limited(byte[] bytes, ReadLimits limits) {
    return TrackFormats.read(new ByteArrayInputStream(bytes), limits);
  }

  /** Endless bytes after a head: nothing of them may pile up in memory. */
  private static InputStream endless(String head, String repeated) {
    return new InputStream() {
      private final byte[] first = head.getBytes(StandardCharsets.UTF_8);
      private final byte[] then = repeated.getBytes(StandardCharsets.UTF_8);
      private long at;

      @Override
      public int read() {
        long i = at++;
        return i < first.length ? first[(int) i] : then[(int) ((i - first.length) % then.length)];
      }
    };
  }

  @Test
  void anEndlessAttributeIsRefused() {
    assertThat(refused(TrackFormats.read(endless("<gpx version=\"", "1"))).kind())
        .isEqualTo(Issue.Kind.TOO_LARGE);
  }

  @Test
  void endlesslyManyNamesAreRefused() {
    InputStream names =
        new InputStream() {
          private byte[] now = "<gpx version=\"1.1\">".getBytes(StandardCharsets.UTF_8);
          private int at;
          private int n;

          @Override
          public int read() {
            if (at == now.length) {
              now = ("<n" + n++ + "/>").getBytes(StandardCharsets.UTF_8);
              at = 0;
            }
            return now[at++];
          }
        };
    assertThat(refused(TrackFormats.read(names)).kind()).isEqualTo(Issue.Kind.TOO_LARGE);
  }

  @Test
  void aStreamThatFailsIsTheWorldsFaultAndNotTheFiles() {
    InputStream failing =
        new InputStream() {
          private final InputStream start =
              new ByteArrayInputStream(
                  gpx(point(1, 1, T0)).getBytes(StandardCharsets.UTF_8), 0, 150);

          @Override
          public int read() throws IOException {
            int b = start.read();
            if (b < 0) throw new IOException("disk");
            return b;
          }
        };
    assertThatThrownBy(() -> TrackFormats.read(failing))
        .isInstanceOf(UncheckedIOException.class)
        .hasMessageContaining("disk");
  }

  @Test
  void manyFixesAreAllKept() {
    String[] points = new String[20_000];
    for (int i = 0; i < points.length; i++)
      points[i] = point(50 + i * 1e-5, 10, "<ele>" + i + "</ele>");
    Track t = track(gpx(points));
    assertThat(t.size()).isEqualTo(20_000);
    assertThat(t.latitudesDeg()[19_999]).isEqualTo(50 + 19_999 * 1e-5);
    assertThat(t.heightsM()[12_345]).isEqualTo(12_345);
    assertThat(Optional.of(t.segments())).contains(1);
  }

  @Test
  void timesOverMinutesDaysAndYearsAreTheJdks() {
    java.util.SplittableRandom random = new java.util.SplittableRandom(5);
    Instant at = Instant.parse("2027-12-30T23:58:00Z");
    String[] points = new String[3000];
    long[] times = new long[points.length];
    for (int i = 0; i < points.length; i++) {
      // Mostly the next second; now and then another minute, day, fraction or zone.
      at = at.plusSeconds(random.nextInt(20) == 0 ? random.nextInt(90_000) : 1);
      String text = at.toString();
      if (i % 7 == 3) text = text.replace("Z", ".000Z");
      if (i % 11 == 5) text = text.replace("Z", "+00:00");
      times[i] = at.toEpochMilli();
      points[i] = point(48 + i * 1e-5, 16, time(text));
    }
    assertThat(track(gpx(points)).timesMs()).isEqualTo(times);
    // What looks alike and is no time is none, though the minute is known.
    String[] odd = {"2027-12-30T23:58:00Z", "2027-12-30T23:58:61Z", "2027-12-30T23:58:0xZ"};
    for (int i = 0; i < odd.length; i++) odd[i] = point(48, 16 + i * 1e-5, time(odd[i]));
    assertThat(track(gpx(odd)).timesMs())
        .containsExactly(1_830_211_080_000L, Track.NO_TIME, Track.NO_TIME);
  }
}
