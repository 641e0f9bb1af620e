package milewarden.format.xml;

import com.fasterxml.aalto.UncheckedStreamException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Optional;
import javax.xml.stream.Location;
import javax.xml.stream.XMLStreamException;
import milewarden.format.fixes.BoundedInput;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.Issue;
import milewarden.track.TrackRead;
import org.codehaus.stax2.XMLStreamReader2;

/**
 * GPX 1.0 and 1.1 as a stream, by local names whatever the namespace.
 *
 * <p>A {@code trkseg} begins a segment, and so does a {@code trk}. The speed and the cumulative
 * distance of a fix are the elements {@code speed} and {@code distance}, in it (1.0) or anywhere in
 * its extensions. Heights and distances are metres, speeds metres per second, as the format says.
 * Times are never invented. A file that breaks off keeps the fixes up to there.
 *
 * @see "GPX 1.1 schema documentation; GPX 1.0 developer's manual"
 */
public final class GpxReader {
  private final FileHead head;
  private final BoundedInput in;
  private final ReadLimits limits;

  public GpxReader(FileHead head, InputStream rest, ReadLimits limits) {
    this.head = head;
    this.limits = limits;
    in = new BoundedInput(head.bytes(), rest, limits.bytes());
  }

  /**
   * Reads to the end of the file, or to where it breaks.
   *
   * @throws UncheckedIOException where the stream below fails
   */
  public TrackRead read() {
    XMLStreamReader2 xml;
    try {
      xml = XmlStreams.open(in);
    } catch (XMLStreamException e) {
      return stopped(e).orElseGet(() -> malformed(e));
    }
    GpxElements elements = new GpxElements(xml, in, head.linesBefore(), limits);
    try {
      elements.readAll();
      return elements.finished();
    } catch (GpxElements.Refusal refusal) {
      return new TrackRead.Refused(refusal.why());
    } catch (XMLStreamException e) {
      return stopped(e).orElseGet(() -> broken(e, elements));
    } catch (UncheckedStreamException e) {
      // Texts are parsed only when they are asked for, and asking is not declared to fail.
      XMLStreamException cause =
          e.getCause() instanceof XMLStreamException x
              ? x
              : new XMLStreamException(String.valueOf(e.getMessage()));
      return stopped(cause).orElseGet(() -> broken(cause, elements));
    }
  }

  /** The stream below failed, or it was too long: whatever the parser made of it. */
  private Optional<TrackRead> stopped(XMLStreamException e) {
    if (in.failure().isPresent()) throw new UncheckedIOException(in.failure().get());
    if (!in.tooLarge()) return Optional.empty();
    String most = limits.bytes() / 1_000_000 + " MB in all, 16 MB in one element";
    return Optional.of(
        new TrackRead.Refused(Issue.at(Issue.Kind.TOO_LARGE, place(e), "at most " + most)));
  }

  private TrackRead broken(XMLStreamException e, GpxElements elements) {
    if (elements.fixesRead() == 0) return malformed(e);
    return elements.brokenOff(place(e), said(e));
  }

  private TrackRead malformed(XMLStreamException e) {
    return new TrackRead.Refused(Issue.at(Issue.Kind.MALFORMED, place(e), said(e)));
  }

  private String place(XMLStreamException e) {
    Location at = e.getLocation();
    if (at == null) return "line 1";
    int line = Math.max(1, at.getLineNumber()) + head.linesBefore();
    return "line " + line + ", column " + Math.max(1, at.getColumnNumber());
  }

  /** The parser's own words, without the place that it puts behind them. */
  private static String said(XMLStreamException e) {
    String message = String.valueOf(e.getMessage());
    int end = message.indexOf("\n at [");
    return IssueLog.shortened(end < 0 ? message : message.substring(0, end));
  }
}
