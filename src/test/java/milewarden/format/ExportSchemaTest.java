package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import javax.xml.XMLConstants;
import javax.xml.transform.stream.StreamSource;
import javax.xml.validation.SchemaFactory;
import javax.xml.validation.Validator;
import milewarden.track.DeviceClaim;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;
import org.xml.sax.SAXException;

/**
 * Whatever track there is, as GPX and as GeoJSON, against the rules of the two standards; the JDK's
 * validator and json-schema-validator are the checks from outside.
 */
final class ExportSchemaTest {
  private static final Path STANDARDS = Path.of("src/test/resources/standards");
  private static final double[] NONE = {};

  private static Validator gpx() throws SAXException {
    String published = System.getProperty("gpx.xsd", STANDARDS.resolve("gpx-1.1.xsd") + "");
    return SchemaFactory.newInstance(XMLConstants.W3C_XML_SCHEMA_NS_URI)
        .newSchema(Path.of(published).toFile())
        .newValidator();
  }

  private static List<String> geoJsonErrors(String json) throws IOException {
    String schema = Files.readString(STANDARDS.resolve("geojson.schema.json"));
    Schema of =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12).getSchema(schema);
    return of.validate(json, InputFormat.JSON).stream().map(Object::toString).toList();
  }

  private static void valid(String name, Track track) throws Exception {
    String written = GpxWriter.write(track);
    try {
      gpx().validate(new StreamSource(new StringReader(written)));
    } catch (SAXException e) {
      throw new AssertionError(name + ": " + e.getMessage() + "\n" + written, e);
    }
    assertThat(geoJsonErrors(GeoJsonWriter.write(track))).as(name).isEmpty();
  }

  /** Every file of the tests that can be read, in whatever format. */
  @Test
  void everyRecordingOfTheTestsIsExportedByTheRules() throws Exception {
    List<Path> files = new ArrayList<>();
    for (String folder : List.of("quirks", "milewarden/format/fuzz"))
      try (Stream<Path> all = Files.walk(Path.of("src/test/resources", folder))) {
        all.filter(Files::isRegularFile).forEach(files::add);
      }
    int read = 0;
    for (Path file : files) {
      Optional<Track> track =
          TrackFormats.read(new ByteArrayInputStream(Files.readAllBytes(file)))
              .fold(u -> Optional.of(u.track()), r -> Optional.empty());
      if (track.isEmpty()) continue;
      valid(file.toString(), track.get());
      read++;
    }
    assertThat(read).isGreaterThan(25);
  }

  @Test
  void theEdgesOfTheGlobeAndOfNumbersAreWrittenByTheRules() throws Exception {
    double[] lat = {90, -90, 1e-9, -1e-12, 0.1};
    // GPX counts 180 as -180; the fourth is less than half of the last decimal away from it.
    double[] lon = {180, -180, 1e-7, 179.99999999999, -0.0};
    double[] values = {1e-9, 1e9, Double.NaN, 0, 12.345678};
    long[] times = {Track.NO_TIME, 0, 1_700_000_000_001L, Long.MAX_VALUE / 2, -1};
    valid("edges", track(lat, lon, values, times, "Box"));
    String written = GpxWriter.write(track(lat, lon, values, times, "Box"));
    assertThat(written).doesNotContain("lon=\"180\"").contains("lon=\"-180\"");
  }

  @Test
  void signsThatXmlForbidsAreNotWritten() throws Exception {
    // XML 1.0, production 2: no control sign but tab and line breaks, no lone surrogate, no FFFE.
    String odd = "a\u0000b\u0001c\u001f\ud800d\ufffee\udc00 \ud83d\ude00 \u202e<&>\"'";
    double[] one = {1};
    valid("signs", track(one, one, one, new long[] {0}, odd));
    assertThat(GpxWriter.write(track(one, one, one, new long[] {0}, odd)))
        .contains("\ud83d\ude00 \u202e&lt;&amp;&gt;&quot;'");
  }

  private static Track track(
      double[] lat, double[] lon, double[] values, long[] times, String name) {
    DeviceClaim claim =
        new DeviceClaim(Optional.of(name), Optional.empty(), Optional.empty(), Optional.empty());
    return new Track(
            "fit",
            lat,
            lon,
            values,
            times,
            values,
            values,
            new int[] {0},
            claim,
            OptionalDouble.empty())
        .withCadencesPerMin(values);
  }

  @Test
  void theRulesRefuseWhatBreaksThem() throws Exception {
    String good =
        GpxWriter.write(track(new double[] {1}, new double[] {2}, NONE, new long[] {0}, "Box"));
    for (String bad :
        List.of(
            good.replace("lon=\"2\"", "lon=\"180\""),
            good.replace("lat=\"1\"", "lat=\"1e0\""),
            good.replace("version=\"1.1\"", "version=\"1.0\""),
            good.replace("<time>1970-01-01T00:00:00Z</time>", "<time>1970</time>"),
            good.replace("http://www.topografix.com/GPX/1/1", "urn:other"),
            good.replace("</time>", "</time><ele>1</ele>")))
      assertThatThrownBy(() -> gpx().validate(new StreamSource(new StringReader(bad))))
          .as(bad)
          .isInstanceOf(SAXException.class);
    byte[] written =
        "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Feature\",\"properties\":{},\"geometry\":{\"type\":\"LineString\",\"coordinates\":[[1,2]]}}]}"
            .getBytes(StandardCharsets.UTF_8);
    assertThat(geoJsonErrors(new String(written, StandardCharsets.UTF_8))).isNotEmpty();
  }
}
