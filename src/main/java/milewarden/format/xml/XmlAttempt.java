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

/** One reading of an XML file from its start: as it stands, or with its markup mended. */
final class XmlAttempt {
  private final FileHead head;
  private final BoundedInput in;
  private final ReadLimits limits;
  private final boolean mending;
  private final Optional<FixRuns> runs;
  private Optional<XmlWalk> walked = Optional.empty();
  private boolean broke;

  private XmlAttempt(
      FileHead head, InputStream rest, ReadLimits limits, boolean mending, boolean ahead) {
    this.head = head;
    this.limits = limits;
    this.mending = mending;
    in = new BoundedInput(mending ? head.withoutMark() : head.bytes(), rest, limits.bytes());
    runs = ahead ? Optional.of(new FixRuns(in)) : Optional.empty();
  }

  /** As it stands, with runs of fixes alike read ahead of the parser. */
  static XmlAttempt ahead(FileHead head, InputStream rest, ReadLimits limits) {
    return new XmlAttempt(head, rest, limits, false, true);
  }

  /** As it stands, all of it by the parser. */
  static XmlAttempt byParser(FileHead head, InputStream rest, ReadLimits limits) {
    return new XmlAttempt(head, rest, limits, false, false);
  }

  /** With its markup mended. */
  static XmlAttempt mending(FileHead head, InputStream rest, ReadLimits limits) {
    return new XmlAttempt(head, rest, limits, true, false);
  }

  /** Whether the markup was the reason that not all of the file was read. */
  boolean broke() {
    return broke;
  }

  /**
   * Reads to the end of the file, or to where it breaks.
   *
   * @throws UncheckedIOException where the stream below fails
   */
  TrackRead read() {
    XMLStreamReader2 xml;
    try {
      xml =
          mending
              ? XmlStreams.open(new MendedMarkup(in, head.encoding()))
              : XmlStreams.open(runs.isPresent() ? runs.get() : in);
    } catch (XMLStreamException e) {
      return stopped(e).orElseGet(() -> malformed(e));
    }
    XmlWalk walk = new XmlWalk(xml, in, head.linesBefore(), limits, mending, runs);
    walked = Optional.of(walk);
    try {
      walk.readAll();
      return walk.reader().orElseThrow().finished();
    } catch (XmlWalk.Refusal refusal) {
      return new TrackRead.Refused(refusal.why());
    } catch (XMLStreamException e) {
      return stopped(e).orElseGet(() -> broken(e, walk));
    } catch (UncheckedStreamException e) {
      // Texts are parsed only when they are asked for, and asking is not declared to fail.
      XMLStreamException cause =
          e.getCause() instanceof XMLStreamException x
              ? x
              : new XMLStreamException(String.valueOf(e.getMessage()));
      return stopped(cause).orElseGet(() -> broken(cause, walk));
    }
  }

  /** The stream below failed, or it was too long: whatever the parser made of it. */
  private Optional<TrackRead> stopped(XMLStreamException e) {
    if (in.failure().isPresent()) throw new UncheckedIOException(in.failure().get());
    if (!in.tooLarge()) return Optional.empty();
    String most = limits.bytes() / 1_000_000 + " MB in all, 16 MB in one element";
    return Optional.of(
        new TrackRead.Refused(Issue.at(Issue.Kind.TOO_LARGE, place(e, in), "at most " + most)));
  }

  private TrackRead broken(XMLStreamException e, XmlWalk walk) {
    broke = true;
    Optional<ElementReader> reader = walk.reader();
    if (reader.isEmpty()) return malformed(e);
    reader.get().breakOff();
    if (reader.get().fixesRead() == 0) return malformed(e);
    walk.issues().add(Issue.Kind.TRUNCATED, () -> place(e), said(e));
    return reader.get().finished();
  }

  private TrackRead malformed(XMLStreamException e) {
    broke = true;
    boolean ended = runs.map(FixRuns::ended).orElse(in.ended());
    String why = ended ? "its end is missing" : said(e);
    return new TrackRead.Refused(Issue.at(Issue.Kind.MALFORMED, place(e), why));
  }

  /** The parser does not know where a stream ended that it could not read on. */
  private String place(XMLStreamException e, BoundedInput from) {
    return e.getLocation() == null ? "byte " + from.count() : place(e);
  }

  private String place(XMLStreamException e) {
    Location at = e.getLocation();
    if (at == null) return "line 1";
    int line = Math.max(1, at.getLineNumber());
    int less = walked.map(w -> w.columnsLess(line)).orElse(0);
    int column = Math.max(1, at.getColumnNumber()) + less;
    return "line " + (line + head.linesBefore()) + ", column " + column;
  }

  /** The parser's own words, without the place that it puts behind them. */
  private static String said(XMLStreamException e) {
    String message = String.valueOf(e.getMessage());
    int end = message.indexOf("\n at [");
    return IssueLog.shortened(end < 0 ? message : message.substring(0, end));
  }
}
