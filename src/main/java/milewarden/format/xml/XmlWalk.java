package milewarden.format.xml;

import com.fasterxml.aalto.UncheckedStreamException;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import milewarden.format.fixes.BoundedInput;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.Issue;
import org.codehaus.stax2.XMLStreamReader2;

/**
 * Goes through an XML file once, element by element, within its limits, and hands the elements to
 * the reader of the format that the root names.
 */
final class XmlWalk {
  /** So many different names no format has, and a parser keeps each: our own bound. */
  private static final int MOST_NAMES = 5_000;

  // A byte below 128 is the sign of ASCII in them, wherever it stands.
  private static final Set<String> PLAIN_BYTES = Set.of("UTF-8", "US-ASCII", "ISO-8859-1");

  private final XMLStreamReader2 xml;
  private final BoundedInput in;
  private final int linesBefore;
  private final ReadLimits limits;
  private final boolean partedNames;
  private final Optional<FixRuns> runs;
  private final IssueLog issues = new IssueLog();
  private final CapturedText text = new CapturedText();
  private final Set<String> otherNames = new HashSet<>();
  private Optional<ElementReader> reader = Optional.empty();
  private int depth;
  private int textDepth;
  private int piecesDepth;
  // Where fixes were read ahead: lines from what is spoken of back from where the parser is.
  private int linesBack;
  private int shortLine;
  private int columnsLess;

  XmlWalk(
      XMLStreamReader2 xml,
      BoundedInput in,
      int linesBefore,
      ReadLimits limits,
      boolean partedNames,
      Optional<FixRuns> runs) {
    this.xml = xml;
    this.in = in;
    this.linesBefore = linesBefore;
    this.limits = limits;
    this.partedNames = partedNames;
    this.runs = runs;
  }

  /** The whole file is refused; never leaves this package. */
  static final class Refusal extends RuntimeException {
    private static final long serialVersionUID = 1;
    private final transient Issue why;

    Refusal(Issue why) {
      super(why.kind().name(), null, false, false);
      this.why = why;
    }

    Issue why() {
      return why;
    }
  }

  /**
   * Reads to the end of the document.
   *
   * @throws Refusal where the file is no track file or beyond its limits
   */
  void readAll() throws XMLStreamException {
    ElementReader to = untilRoot();
    reader = Optional.of(to);
    if (PLAIN_BYTES.contains(String.valueOf(xml.getEncoding())))
      runs.ifPresent(r -> to.markup().ifPresent(r::take));
    while (xml.hasNext()) {
      switch (next()) {
        case XMLStreamConstants.START_ELEMENT -> {
          deeper();
          to.open(name());
        }
        case XMLStreamConstants.END_ELEMENT -> end(to);
        case XMLStreamConstants.CHARACTERS, XMLStreamConstants.CDATA -> characters(to);
        case XMLStreamConstants.DTD -> throw refusal(Issue.Kind.DOCTYPE, "");
        case XMLStreamConstants.PROCESSING_INSTRUCTION -> instruction(to);
        default -> in.progressed();
      }
    }
  }

  private int next() throws XMLStreamException {
    try {
      return xml.next();
    } catch (UncheckedStreamException e) {
      throw e;
    } catch (RuntimeException e) {
      // The parser's own slip on markup that is broken: an element named xmlns:a with a value.
      throw new XMLStreamException(String.valueOf(e.getMessage()), xml.getLocation(), e);
    }
  }

  private ElementReader untilRoot() throws XMLStreamException {
    while (xml.hasNext()) {
      int event = next();
      if (event == XMLStreamConstants.DTD) throw refusal(Issue.Kind.DOCTYPE, "");
      if (event == XMLStreamConstants.START_ELEMENT) {
        deeper();
        return root(name());
      }
      in.progressed();
    }
    throw refusal(Issue.Kind.NOT_A_TRACK, "no element");
  }

  private String name() {
    String name = xml.getLocalName();
    return partedNames ? name.substring(name.lastIndexOf(MendedMarkup.PARTED) + 1) : name;
  }

  private ElementReader root(String name) {
    return switch (name) {
      case "gpx" -> new GpxElements(this);
      case "TrainingCenterDatabase" -> new TcxElements(this);
      case "kml" -> new KmlElements(this);
      default -> throw refusal(Issue.Kind.NOT_A_TRACK, "root element " + IssueLog.shortened(name));
    };
  }

  private void deeper() {
    in.progressed();
    if (++depth > limits.depth())
      throw refusal(Issue.Kind.TOO_DEEP, "more than " + limits.depth() + " levels");
  }

  private void end(ElementReader to) {
    if (depth == textDepth) {
      textDepth = 0;
      to.captured(text);
    } else {
      if (depth == piecesDepth) piecesDepth = 0;
      to.close();
    }
    depth--;
  }

  private void characters(ElementReader to) {
    if (depth == textDepth) {
      text.append(xml.getTextCharacters(), xml.getTextStart(), xml.getTextLength());
    } else if (depth == piecesDepth) {
      in.progressed();
      to.piece(xml.getTextCharacters(), xml.getTextStart(), xml.getTextLength());
    }
  }

  private void instruction(ElementReader to) throws XMLStreamException {
    in.progressed();
    if (runs.isEmpty()) return;
    // Asking for the text brings the parser to the instruction's end: lines count from there.
    String text = String.valueOf(xml.getPIData());
    Optional<FixRun> run = runs.get().turn(xml.getPITarget(), text);
    if (run.isPresent()) fixes(to, run.get());
  }

  private void fixes(ElementReader to, FixRun run) throws XMLStreamException {
    if (depth == 0)
      throw new XMLStreamException("an element behind the root's end", xml.getLocation());
    int line = lineNumber();
    columnsLess = runs.orElseThrow().columnsLess() + (line == shortLine ? columnsLess : 0);
    shortLine = line;
    at(run, 0);
    if (depth + run.depth() > limits.depth())
      throw refusal(Issue.Kind.TOO_DEEP, "more than " + limits.depth() + " levels");
    to.fixes(run);
    linesBack = 0;
  }

  /** What is said now is of the start of this fix. */
  void atStart(FixRun run, int i) {
    linesBack = run.linesAfter(i) + run.linesOf(i);
  }

  /** What is said now is of the end of this fix. */
  void at(FixRun run, int i) {
    linesBack = run.linesAfter(i);
  }

  /** Columns by which a line is shorter for the parser than in the file. */
  int columnsLess(int line) {
    return line == shortLine ? columnsLess : 0;
  }

  private int lineNumber() {
    return xml.getLocationInfo().getCurrentLocation().getLineNumber() - linesBack;
  }

  /** The reader that the root chose; empty before the root. */
  Optional<ElementReader> reader() {
    return reader;
  }

  /** Levels of open elements; 1 in the root. */
  int depth() {
    return depth;
  }

  XMLStreamReader2 xml() {
    return xml;
  }

  ReadLimits limits() {
    return limits;
  }

  IssueLog issues() {
    return issues;
  }

  /** Asks for the text of the element that was just opened. */
  void capture() {
    textDepth = depth;
    text.clear();
  }

  /** No text that was asked for is of use any more. */
  void forgetText() {
    textDepth = 0;
  }

  /** Asks for the text of the element that was just opened in pieces: it may be very long. */
  void capturePieces() {
    piecesDepth = depth;
  }

  String line() {
    return "line " + (lineNumber() + linesBefore);
  }

  Refusal refusal(Issue.Kind kind, String detail) {
    return new Refusal(Issue.at(kind, line(), detail));
  }

  /** The attribute of this local name; empty where there is none. */
  String attribute(String name) {
    for (int i = 0; i < xml.getAttributeCount(); i++)
      if (xml.getAttributeLocalName(i).equals(name)) return xml.getAttributeValue(i).strip();
    return "";
  }

  /** An element that the format's reader does not look into. */
  void other(String name) {
    otherNames.add(name);
    for (int i = 0; i < xml.getAttributeCount(); i++) otherNames.add(xml.getAttributeLocalName(i));
    checkNames();
  }

  void otherAttribute(String name) {
    otherNames.add(name);
    checkNames();
  }

  private void checkNames() {
    if (otherNames.size() > MOST_NAMES)
      throw refusal(Issue.Kind.TOO_LARGE, "more than " + MOST_NAMES + " different names");
  }

  /** No more fixes than the limits allow. */
  void checkFixes(int seen) {
    if (seen > limits.fixes())
      throw refusal(Issue.Kind.TOO_MANY_FIXES, "more than " + limits.fixes());
  }
}
