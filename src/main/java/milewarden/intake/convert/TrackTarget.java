package milewarden.intake.convert;

import java.io.OutputStream;
import java.util.Optional;
import java.util.function.BiConsumer;
import milewarden.format.GeoJsonWriter;
import milewarden.format.GpxWriter;
import milewarden.intake.doubt.Answered;
import milewarden.intake.drop.Bytes;
import milewarden.track.Track;

/** A format that every recording can be had in, whatever it came as. */
public enum TrackTarget {
  /** GPX 1.1, with the device's own distance, speed and cadence as extensions. */
  GPX("gpx", "application/gpx+xml", GpxWriter::write),
  /** GeoJSON of RFC 7946, with the times as a property of each line. */
  GEOJSON("geojson", "application/geo+json", GeoJsonWriter::write);

  private final String ending;
  private final String mediaType;
  private final BiConsumer<Track, OutputStream> writer;

  TrackTarget(String ending, String mediaType, BiConsumer<Track, OutputStream> writer) {
    this.ending = ending;
    this.mediaType = mediaType;
    this.writer = writer;
  }

  /** Of a file's name, without its dot. */
  public String ending() {
    return ending;
  }

  public String mediaType() {
    return mediaType;
  }

  /** Writes a recording to a stream, which stays open. */
  @FunctionalInterface
  public interface Writing {
    void to(OutputStream out);
  }

  /**
   * The recording in this format, UTF-8, to be written piece by piece; what reading drops is not in
   * it.
   *
   * @param original the bytes as they came
   * @param answers what its tester answered: its times and columns are as answered
   * @return empty where the bytes can't be read as one recording
   */
  public Optional<Writing> of(Bytes original, Answered answers) {
    return answers.track(original::open).map(track -> out -> writer.accept(track, out));
  }
}
