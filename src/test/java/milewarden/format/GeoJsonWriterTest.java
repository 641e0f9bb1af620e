package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.OptionalDouble;
import milewarden.track.DeviceClaim;
import milewarden.track.Track;
import org.junit.jupiter.api.Test;

/** The rules are RFC 7946's; the document is taken apart by a general-purpose JSON reader. */
final class GeoJsonWriterTest {
  private static final double[] NONE = {};

  private static Track track(int... segmentStarts) {
    return new Track(
        "fit",
        new double[] {46.5, -0.000000001, 0.1234567891, -89.9999999994, 1},
        new double[] {-31.5, 179.999999999, 1e-7, -0.0000000004, 2},
        new double[] {34.5, Double.NaN, -3, 10_000_000, 7},
        new long[] {1_700_000_000_000L, 1_700_000_000_300L, Track.NO_TIME, 1_700_000_002_000L, 0},
        NONE,
        NONE,
        segmentStarts,
        DeviceClaim.NONE,
        OptionalDouble.empty());
  }

  @Test
  void everyRuleOfTheStandardForThisKindOfDocumentHolds() throws IOException {
    JsonNode root = JsonMapper.builder().build().readTree(GeoJsonWriter.write(track(0, 4)));
    // Section 3.3: a collection has an array of features.
    assertThat(root.get("type").asText()).isEqualTo("FeatureCollection");
    assertThat(root.get("features")).hasSize(2);
    for (JsonNode feature : root.get("features")) {
      // Section 3.2: type, geometry and properties, an object or null.
      assertThat(feature.get("type").asText()).isEqualTo("Feature");
      assertThat(feature.get("properties").isObject()).isTrue();
      JsonNode geometry = feature.get("geometry");
      boolean line = geometry.get("type").asText().equals("LineString");
      JsonNode coordinates = geometry.get("coordinates");
      // Section 3.1.4: a line has two positions or more; 3.1.2: a point is one.
      if (line) assertThat(coordinates.size()).isGreaterThanOrEqualTo(2);
      else assertThat(geometry.get("type").asText()).isEqualTo("Point");
      for (JsonNode position : line ? coordinates : List.of(coordinates)) {
        // Section 3.1.1: two or three numbers, longitude first; section 4: WGS 84 degrees.
        assertThat(position.size()).isBetween(2, 3);
        for (JsonNode number : position) assertThat(number.isNumber()).isTrue();
        assertThat(Math.abs(position.get(0).asDouble())).isLessThanOrEqualTo(180);
        assertThat(Math.abs(position.get(1).asDouble())).isLessThanOrEqualTo(90);
      }
      // Section 7.1: none of these names where the standard gives them another meaning.
      assertThat(feature.has("coordinates") || feature.has("features")).isFalse();
    }
  }

  @Test
  void placesTimesAndHeightsStandAsTheTrackHasThem() throws IOException {
    Track t = track(0, 4);
    JsonNode features =
        JsonMapper.builder().build().readTree(GeoJsonWriter.write(t)).get("features");
    JsonNode line = features.get(0).get("geometry").get("coordinates");
    JsonNode times = features.get(0).get("properties").get("coordTimes");
    assertThat(times).hasSize(4);
    for (int i = 0; i < 4; i++) {
      // Nine decimals are kept: half of the last is 5e-10 degrees.
      assertThat(line.get(i).get(0).asDouble()).isCloseTo(t.longitudesDeg()[i], within(6e-10));
      assertThat(line.get(i).get(1).asDouble()).isCloseTo(t.latitudesDeg()[i], within(6e-10));
    }
    assertThat(line.get(0).get(2).asDouble()).isEqualTo(34.5);
    assertThat(line.get(1)).hasSize(2);
    // 1,700,000,000 s after 1970 is 2023-11-14T22:13:20Z: GNU date 9.1, date -u -d @1700000000.
    assertThat(times.get(0).asText()).isEqualTo("2023-11-14T22:13:20Z");
    assertThat(times.get(1).asText()).isEqualTo("2023-11-14T22:13:20.300Z");
    assertThat(times.get(2).isNull()).isTrue();
    assertThat(features.get(1).get("properties").get("time").asText())
        .isEqualTo("1970-01-01T00:00:00Z");
  }

  @Test
  void ourReaderFindsTheSameFixesAgain() {
    Track t = track(0, 2);
    byte[] written = GeoJsonWriter.write(t).getBytes(StandardCharsets.UTF_8);
    Track back =
        TrackFormats.read(new ByteArrayInputStream(written))
            .fold(
                u -> u.track(),
                r -> {
                  throw new AssertionError("refused: " + r.why());
                });
    assertThat(back.segments()).isEqualTo(2);
    assertThat(back.latitudesDeg()).containsExactly(t.latitudesDeg(), within(6e-10));
    assertThat(back.longitudesDeg()).containsExactly(t.longitudesDeg(), within(6e-10));
    assertThat(back.timesMs()).containsExactly(t.timesMs());
  }
}
