package milewarden.format;

import java.io.InputStream;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.TrackRead;

/** A format of recordings: bytes to a track. */
@FunctionalInterface
interface TrackFormat {
  /**
   * Reads a recording to its end.
   *
   * @param head the first bytes, taken from {@code rest} before
   */
  TrackRead read(FileHead head, InputStream rest, ReadLimits limits);
}
