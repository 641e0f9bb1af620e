package milewarden.format.xml;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.format.fixes.Rereadable;
import milewarden.track.Issue;
import milewarden.track.TrackRead;

/**
 * Recordings in XML as a stream, by local names whatever the namespace; the root names the format.
 * A file that breaks off keeps the fixes up to there. Times are never invented.
 *
 * <p>Where the markup breaks a rule, the file is read once more with its markup mended, and the
 * reading that kept more fixes stands, or came to the end with as many.
 */
public final class XmlTrackReader {
  private final FileHead head;
  private final InputStream rest;
  private final ReadLimits limits;

  public XmlTrackReader(FileHead head, InputStream rest, ReadLimits limits) {
    this.head = head;
    this.rest = rest;
    this.limits = limits;
  }

  /**
   * Reads to the end of the file, or to where it breaks.
   *
   * @throws UncheckedIOException where the stream below fails
   */
  public TrackRead read() {
    // Most streams can't go back as far: they are mended from the start.
    boolean goesBack = rest instanceof ByteArrayInputStream || rest instanceof Rereadable;
    if (!goesBack) return XmlAttempt.mending(head, rest, limits).read();
    rest.mark(0);
    XmlAttempt asItStands = XmlAttempt.ahead(head, rest, limits);
    TrackRead first = asItStands.read();
    if (!asItStands.broke()) return first;
    try {
      rest.reset();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    XmlAttempt mending = XmlAttempt.mending(head, rest, limits);
    TrackRead second = mending.read();
    boolean whole = !mending.broke() && kept(second) > 0 && kept(second) == kept(first);
    return whole || kept(second) > kept(first) ? mended(second, first) : first;
  }

  private static int kept(TrackRead read) {
    return read.fold(u -> u.drops().kept(), r -> 0);
  }

  /** The second reading, with the reason for it. */
  private static TrackRead mended(TrackRead second, TrackRead first) {
    Issue why =
        first.fold(
            u ->
                u.drops().details().stream()
                    .filter(i -> i.kind() == Issue.Kind.TRUNCATED)
                    .findFirst()
                    .orElseThrow(),
            r -> r.why());
    Issue said = new Issue(Issue.Kind.MARKUP_MENDED, why.place(), why.detail());
    return second.fold(u -> new TrackRead.Usable(u.track(), u.drops().with(said)), r -> r);
  }
}
