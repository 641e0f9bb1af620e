package milewarden.format;

import java.io.InputStream;
import java.util.Optional;
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
   * @throws java.io.UncheckedIOException where the stream itself fails
   */
  public static TrackRead read(InputStream bytes) {
    return read(bytes, GpxLimits.DEFAULT);
  }

  /** As {@link #read(InputStream)} with other limits. */
  public static TrackRead read(InputStream bytes, GpxLimits limits) {
    return new TrackRead.Refused(new Issue(Issue.Kind.NOT_A_TRACK, Optional.empty(), ""));
  }
}
