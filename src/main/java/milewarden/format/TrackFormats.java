package milewarden.format;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import milewarden.format.fit.FitReader;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.format.xml.XmlTrackReader;
import milewarden.track.Issue;
import milewarden.track.TrackRead;

/** Reads a recording in whichever format its content is; the file's name plays no part. */
public final class TrackFormats {
  private static final TrackFormat FIT =
      (head, rest, limits) -> new FitReader(head, rest, limits).read();
  private static final TrackFormat XML =
      (head, rest, limits) -> new XmlTrackReader(head, rest, limits).read();

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
      if (FitReader.recognises(head)) return FIT.read(head, bytes, limits);
      if (!head.looksLikeXml()) return refused("begins with \"" + head.shown() + "\"");
      return XML.read(head, bytes, limits);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static TrackRead refused(String detail) {
    return new TrackRead.Refused(Issue.of(Issue.Kind.NOT_A_TRACK, detail));
  }
}
