package milewarden.format;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import milewarden.format.fit.FitReader;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.format.text.CsvReader;
import milewarden.format.text.GeoJsonReader;
import milewarden.format.text.NmeaReader;
import milewarden.format.xml.XmlTrackReader;
import milewarden.track.Issue;
import milewarden.track.TrackRead;

/** Reads a recording in whichever format its content is; the file's name plays no part. */
public final class TrackFormats {
  private TrackFormats() {}

  /**
   * Reads a recording to its end; the caller closes the stream.
   *
   * @return a track with what was dropped, or the refusal; never an exception for what the bytes
   *     say
   * @throws UncheckedIOException where the stream itself fails
   */
  public static TrackRead read(InputStream bytes) {
    return read(bytes, ReadLimits.DEFAULT);
  }

  /** As {@link #read(InputStream)} with other limits. */
  public static TrackRead read(InputStream bytes, ReadLimits limits) {
    try {
      FileHead head = FileHead.of(bytes);
      if (head.isEmpty()) return refused("the file is empty");
      if (FitReader.recognises(head)) return new FitReader(head, bytes, limits).read();
      if (head.looksLikeXml()) return new XmlTrackReader(head, bytes, limits).read();
      if (GeoJsonReader.recognises(head)) return new GeoJsonReader(head, bytes, limits).read();
      if (NmeaReader.recognises(head)) return new NmeaReader(head, bytes, limits).read();
      if (CsvReader.recognises(head)) return new CsvReader(head, bytes, limits).read();
      return refused("begins with \"" + head.shown() + "\"");
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static TrackRead refused(String detail) {
    return new TrackRead.Refused(Issue.of(Issue.Kind.NOT_A_TRACK, detail));
  }
}
