package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.MappingIterator;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.dataformat.csv.CsvMapper;
import com.fasterxml.jackson.dataformat.csv.CsvSchema;
import io.jenetics.jpx.GPX;
import io.jenetics.jpx.WayPoint;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import javax.xml.parsers.DocumentBuilderFactory;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;
import milewarden.track.TrackRead;
import net.sf.geographiclib.Geodesic;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/**
 * The same bytes, read by us and by a general-purpose reader of the registries: the same fixes,
 * times and lengths. GPX: jpx 3.2.1. CSV: Jackson's. NMEA 0183, and the lines of KML and GeoJSON:
 * what marineapi 0.12.0 and JTS 1.20.0 found, as recorded in agree/SOURCE.txt. The times of
 * GeoJSON: Jackson's tree. TCX and the timed tracks of KML, for which there is no such reader: the
 * JDK's document tree, by local names. FIT: what fit-file-parser 6.1.2 found, as recorded there;
 * its maker's own library is not used.
 */
final class ReadersAgreeTest {
  private static final Path FILES = Path.of("src/test/resources");
  private static final Track WALK =
      TrackSimulator.simulate(
              Walk.of(InventedCourse.straight("pier", new Position(1.0, 2.0), 30, 1500))
                  .withStart(Instant.parse("2026-05-12T23:52:00Z")),
              Receiver.PERFECT.withNoise(3.0, 20, 0.3),
              Sky.CLEAR,
              11)
          .track();

  /** A fix as another reader has it; time in milliseconds or NO_TIME. */
  private record Fix(double latitude, double longitude, long time) {}

  private static Track ours(String text) {
    return ours(text.getBytes(StandardCharsets.UTF_8));
  }

  private static Track ours(byte[] bytes) {
    return TrackFormats.read(new ByteArrayInputStream(bytes))
        .fold(
            TrackRead.Usable::track,
            r -> {
              throw new AssertionError(r.why());
            });
  }

  private static String file(String name) throws IOException {
    return Files.readString(FILES.resolve(name));
  }

  /** The same decimal digits give the same double, whoever reads them; sums of minutes may not. */
  private static void agree(Track ours, List<Fix> theirs, double withinDeg) {
    assertThat(theirs).hasSizeGreaterThan(1).hasSize(ours.size());
    double[] lat = theirs.stream().mapToDouble(Fix::latitude).toArray();
    double[] lon = theirs.stream().mapToDouble(Fix::longitude).toArray();
    assertThat(ours.latitudesDeg()).containsExactly(lat, within(withinDeg));
    assertThat(ours.longitudesDeg()).containsExactly(lon, within(withinDeg));
    assertThat(ours.timesMs()).containsExactly(theirs.stream().mapToLong(Fix::time).toArray());
    // Two ends of every step, off by 1.2e5 m a degree.
    double slackM = 2 * theirs.size() * withinDeg * 1.2e5;
    assertThat(lengthM(ours.latitudesDeg(), ours.longitudesDeg()))
        .isCloseTo(lengthM(lat, lon), within(slackM));
  }

  private static double lengthM(double[] lat, double[] lon) {
    double sum = 0;
    for (int i = 1; i < lat.length; i++)
      sum += Geodesic.WGS84.Inverse(lat[i - 1], lon[i - 1], lat[i], lon[i]).s12;
    return sum;
  }

  private static String degrees(double value) {
    return String.format(Locale.ROOT, "%.9f", value);
  }

  private static Instant time(int i) {
    return Instant.ofEpochMilli(WALK.timesMs()[i]);
  }

  @ParameterizedTest
  @ValueSource(strings = {"quirks/same-recording.gpx", "quirks/5-decimals.gpx", ""})
  void gpx(String name) throws IOException {
    String text = name.isEmpty() ? GpxWriter.write(WALK) : file(name);
    List<Fix> theirs = new ArrayList<>();
    GPX.Reader.of(GPX.Reader.Mode.LENIENT)
        .fromString(text)
        .tracks()
        .flatMap(t -> t.segments())
        .flatMap(s -> s.points())
        .forEach(p -> theirs.add(fix(p)));
    agree(ours(text), theirs, 0);
  }

  private static Fix fix(WayPoint p) {
    return new Fix(
        p.getLatitude().doubleValue(),
        p.getLongitude().doubleValue(),
        p.getTime().map(Instant::toEpochMilli).orElse(Track.NO_TIME));
  }

  @ParameterizedTest
  @ValueSource(strings = {"quirks/same-recording.csv", ""})
  void csv(String name) throws IOException {
    String text = name.isEmpty() ? table(",", "") : file(name);
    agree(ours(text), rows(text, ',', false), 0);
  }

  @Test
  void csvWithTabsTheNewestRowFirst() throws IOException {
    String text = file("milewarden/format/fuzz/CsvFuzzInputs/newest-first.tsv");
    agree(ours(text), rows(text, '\t', true), 0);
  }

  @Test
  void csvWithSemicolonsQuotesAndDecimalCommas() throws IOException {
    String text = table(";", "\"").replaceAll("\"(-?\\d+)\\.(\\d+)\"", "\"$1,$2\"");
    assertThat(text).contains("\";\"1,0");
    agree(ours(text), rows(text, ';', false), 0);
  }

  private static String table(String separator, String quote) {
    StringBuilder text = new StringBuilder(String.join(separator, "time", "lat", "lon") + "\r\n");
    for (int i = 0; i < WALK.size(); i++)
      text.append(quote)
          .append(
              String.join(
                  quote + separator + quote,
                  time(i).toString(),
                  degrees(WALK.latitudesDeg()[i]),
                  degrees(WALK.longitudesDeg()[i])))
          .append(quote)
          .append("\r\n");
    return text.toString();
  }

  private static List<Fix> rows(String text, char separator, boolean newestFirst)
      throws IOException {
    List<Fix> fixes = new ArrayList<>();
    CsvSchema headed = CsvSchema.emptySchema().withHeader().withColumnSeparator(separator);
    try (MappingIterator<Map<String, String>> rows =
        new CsvMapper().readerForMapOf(String.class).with(headed).readValues(text)) {
      while (rows.hasNext()) {
        Map<String, String> row = rows.next();
        fixes.add(
            newestFirst ? 0 : fixes.size(),
            new Fix(
                Double.parseDouble(row.get("lat").replace(',', '.')),
                Double.parseDouble(row.get("lon").replace(',', '.')),
                OffsetDateTime.parse(row.get("time")).toInstant().toEpochMilli()));
      }
    }
    return fixes;
  }

  /**
   * The walk over midnight; degrees of whole minutes and their fraction, or of a semicircle's 2^31
   * parts, are two roundings apart.
   */
  @ParameterizedTest
  @CsvSource({"walk.nmea, 1e-13", "line.kml, 0", "line.geojson, 0", "walk.fit, 1e-13"})
  void whatTheReadersFoundIsWhatOursFinds(String name, double withinDeg) throws IOException {
    List<Fix> theirs = new ArrayList<>();
    List<Double> recordedM = new ArrayList<>();
    for (String line : file("agree/" + name + ".txt").lines().toList()) {
      String[] cells = line.split(" ");
      if (cells.length > 3) recordedM.add(Double.parseDouble(cells[3]));
      theirs.add(
          new Fix(
              Double.parseDouble(cells[0]),
              Double.parseDouble(cells[1]),
              cells[2].equals("-") ? Track.NO_TIME : Long.parseLong(cells[2])));
    }
    assertThat(theirs).hasSize(180);
    Track ours = ours(Files.readAllBytes(FILES.resolve("agree/" + name)));
    agree(ours, theirs, withinDeg);
    if (!recordedM.isEmpty())
      assertThat(ours.distancesM())
          .containsExactly(recordedM.stream().mapToDouble(d -> d).toArray(), within(1e-9));
  }

  @ParameterizedTest
  @ValueSource(strings = {"milewarden/format/fuzz/GeoJsonFuzzInputs/line.geojson", ""})
  void theTimesOfGeoJson(String name) throws Exception {
    String text = name.isEmpty() ? GeoJsonWriter.write(WALK) : file(name);
    JsonNode root = JsonMapper.builder().build().readTree(text);
    List<Fix> theirs = new ArrayList<>();
    for (JsonNode feature : root.has("features") ? root.get("features") : List.of(root)) {
      JsonNode line = feature.get("geometry").get("coordinates");
      JsonNode times = feature.get("properties").get("coordTimes");
      for (int i = 0; i < line.size(); i++)
        theirs.add(
            new Fix(
                line.get(i).get(1).asDouble(),
                line.get(i).get(0).asDouble(),
                Instant.parse(times.get(i).asText()).toEpochMilli()));
    }
    agree(ours(text), theirs, 0);
  }

  @Test
  void aTimedTrackOfKml() throws Exception {
    String text = file("milewarden/format/fuzz/KmlFuzzInputs/timed.kml");
    Document document = document(text);
    NodeList when = document.getElementsByTagNameNS("*", "when");
    NodeList places = document.getElementsByTagNameNS("*", "coord");
    List<Fix> theirs = new ArrayList<>();
    for (int i = 0; i < when.getLength(); i++) {
      String[] numbers = places.item(i).getTextContent().strip().split(" ");
      theirs.add(
          new Fix(
              Double.parseDouble(numbers[1]),
              Double.parseDouble(numbers[0]),
              Instant.parse(when.item(i).getTextContent()).toEpochMilli()));
    }
    agree(ours(text), theirs, 0);
  }

  @ParameterizedTest
  @ValueSource(strings = {"quirks/same-recording.tcx", ""})
  void tcx(String name) throws Exception {
    String text = name.isEmpty() ? training() : file(name);
    NodeList points = document(text).getElementsByTagNameNS("*", "Trackpoint");
    List<Fix> theirs = new ArrayList<>();
    for (int i = 0; i < points.getLength(); i++) {
      Element point = (Element) points.item(i);
      if (point.getElementsByTagNameNS("*", "Position").getLength() == 0) continue;
      theirs.add(
          new Fix(
              Double.parseDouble(text(point, "LatitudeDegrees")),
              Double.parseDouble(text(point, "LongitudeDegrees")),
              Instant.parse(text(point, "Time")).toEpochMilli()));
    }
    agree(ours(text), theirs, 0);
  }

  private static String text(Element of, String name) {
    return of.getElementsByTagNameNS("*", name).item(0).getTextContent();
  }

  /** Two laps, the second without a position at its begin. */
  private static String training() {
    StringBuilder text =
        new StringBuilder("<TrainingCenterDatabase xmlns=\"urn:t\"><Activities><Activity>");
    for (int lap = 0; lap < 2; lap++) {
      int from = lap * WALK.size() / 2;
      int to = (lap + 1) * WALK.size() / 2;
      text.append("<Lap StartTime=\"").append(time(from)).append("\"><Track>");
      if (lap == 1)
        text.append("<Trackpoint><Time>").append(time(from)).append("</Time></Trackpoint>");
      for (int i = from; i < to; i++)
        text.append("<Trackpoint><Time>")
            .append(time(i))
            .append("</Time><Position><LatitudeDegrees>")
            .append(degrees(WALK.latitudesDeg()[i]))
            .append("</LatitudeDegrees><LongitudeDegrees>")
            .append(degrees(WALK.longitudesDeg()[i]))
            .append("</LongitudeDegrees></Position></Trackpoint>\n");
      text.append("</Track></Lap>");
    }
    return text.append("</Activity></Activities></TrainingCenterDatabase>").toString();
  }

  private static Document document(String text) throws Exception {
    DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
    factory.setNamespaceAware(true);
    return factory
        .newDocumentBuilder()
        .parse(new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8)));
  }
}
