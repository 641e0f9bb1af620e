package milewarden.format.xml;

import java.util.Optional;
import milewarden.track.TrackRead;

/** What one XML format makes of its elements, as they open and close. */
abstract class ElementReader {
  /** An element opened; the walk's depth counts it. */
  abstract void open(String name);

  /** The element at the walk's depth closed, and its text was not asked for. */
  abstract void close();

  /** The element whose text was asked for closed. */
  abstract void captured(CapturedText text);

  /** A piece of text of an element whose text was asked for in pieces. */
  void piece(char[] buffer, int start, int length) {
    throw new IllegalStateException("no pieces were asked for");
  }

  /** How fixes are written, where they may be read ahead of the parser. */
  Optional<FixMarkup> markup() {
    return Optional.empty();
  }

  /** Fixes that stand at this place of the file, each of them whole. */
  void fixes(FixRun run) {
    throw new IllegalStateException("no fixes were to be read ahead");
  }

  /** Fixes kept so far. */
  abstract int fixesRead();

  /** The file breaks off here: what was begun counts with what was read of it. */
  abstract void breakOff();

  /** What was read. */
  abstract TrackRead finished();
}
