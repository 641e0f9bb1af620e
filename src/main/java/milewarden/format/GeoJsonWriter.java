package milewarden.format;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import milewarden.track.Track;

/**
 * Writes a track as GeoJSON: a collection with one feature for each segment, a line, or a point
 * where the segment is one fix, since a line has two positions or more. Degrees carry at most nine
 * decimals, heights, in metres, three; the times of a line stand in its property {@code
 * coordTimes}, one for each position and null where a fix has none, that of a point in {@code
 * time}.
 *
 * <p>The device's own distance, speed and cadence have no place here: GPX carries them. A line over
 * the 180th meridian is not cut, since it is one recording.
 *
 * @see "RFC 7946"
 */
public final class GeoJsonWriter {
  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final int DECIMALS = 9;
  private static final int HEIGHT_DECIMALS = 3;

  private final Track track;
  private final JsonGenerator json;

  private GeoJsonWriter(Track track, JsonGenerator json) {
    this.track = track;
    this.json = json;
  }

  /** The whole document. */
  public static String write(Track track) {
    ByteArrayOutputStream all = new ByteArrayOutputStream();
    write(track, all);
    return all.toString(StandardCharsets.UTF_8);
  }

  /**
   * Writes the document as UTF-8, piece by piece; the stream stays open.
   *
   * @throws UncheckedIOException where the stream fails
   */
  public static void write(Track track, OutputStream to) {
    try (JsonGenerator json = JSON.createGenerator(to)) {
      json.disable(JsonGenerator.Feature.AUTO_CLOSE_TARGET);
      json.enable(JsonGenerator.Feature.WRITE_BIGDECIMAL_AS_PLAIN);
      new GeoJsonWriter(track, json).document();
      json.writeRaw('\n');
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void document() throws IOException {
    json.writeStartObject();
    json.writeStringField("type", "FeatureCollection");
    json.writeArrayFieldStart("features");
    for (int segment = 0; segment < track.segments(); segment++)
      feature(track.segmentStart(segment), track.segmentEnd(segment));
    json.writeEndArray();
    json.writeEndObject();
  }

  private void feature(int from, int to) throws IOException {
    boolean point = to - from == 1;
    json.writeStartObject();
    json.writeStringField("type", "Feature");
    json.writeObjectFieldStart("properties");
    times(from, to, point);
    json.writeEndObject();
    json.writeObjectFieldStart("geometry");
    json.writeStringField("type", point ? "Point" : "LineString");
    json.writeFieldName("coordinates");
    if (!point) json.writeStartArray();
    for (int i = from; i < to; i++) position(i);
    if (!point) json.writeEndArray();
    json.writeEndObject();
    json.writeEndObject();
  }

  private void times(int from, int to, boolean point) throws IOException {
    boolean any = false;
    for (int i = from; i < to; i++) any |= track.hasTime(i);
    if (!any) return;
    json.writeFieldName(point ? "time" : "coordTimes");
    if (!point) json.writeStartArray();
    for (int i = from; i < to; i++)
      if (track.hasTime(i)) json.writeString(Instant.ofEpochMilli(track.timesMs()[i]).toString());
      else json.writeNull();
    if (!point) json.writeEndArray();
  }

  private void position(int i) throws IOException {
    json.writeStartArray();
    json.writeNumber(decimal(track.longitudesDeg()[i], DECIMALS));
    json.writeNumber(decimal(track.latitudesDeg()[i], DECIMALS));
    if (track.heightsM().length > 0 && Double.isFinite(track.heightsM()[i]))
      json.writeNumber(decimal(track.heightsM()[i], HEIGHT_DECIMALS));
    json.writeEndArray();
  }

  private static BigDecimal decimal(double value, int decimals) {
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP).stripTrailingZeros();
  }
}
