package milewarden.format.text;

import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.util.Arrays;
import java.util.Optional;
import java.util.function.Supplier;
import milewarden.format.fixes.BoundedInput;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.Issue;

/** A text file line by line; lines end with a line feed, a carriage return, or both. */
final class Lines {
  /** A line longer than this is no line of a recording: our own bound. */
  static final int LONGEST = 1 << 16;

  private final BoundedInput in;
  private final Reader reader;
  private final ReadLimits limits;
  private final char[] buffer = new char[1 << 13];
  private int at;
  private int end;
  private char[] line = new char[256];
  private int length;
  private int number;
  private boolean afterReturn;

  Lines(FileHead head, InputStream rest, ReadLimits limits) {
    this.limits = limits;
    in = new BoundedInput(head.withoutMark(), rest, limits.bytes());
    // Bytes that are no text of this encoding become marks of replacement and are never digits.
    reader = new InputStreamReader(in, head.encoding());
    number = head.linesBefore();
  }

  /**
   * Goes to the next line.
   *
   * @return false behind the last one
   * @throws TooLong where a line or the whole file is beyond its limit
   * @throws UncheckedIOException where the stream below fails
   */
  boolean next() throws TooLong {
    length = 0;
    number++;
    while (true) {
      if (at == end && !fill()) return length > 0;
      if (afterReturn) {
        // Both together end one line.
        afterReturn = false;
        if (buffer[at] == '\n' && ++at == end) continue;
      }
      int stop = at;
      while (stop < end && buffer[stop] != '\n' && buffer[stop] != '\r') stop++;
      append(stop);
      if (stop == end) continue;
      afterReturn = buffer[stop] == '\r';
      at = stop + 1;
      return true;
    }
  }

  /** The file or one of its lines is longer than any recording's. */
  static final class TooLong extends Exception {
    private static final long serialVersionUID = 1;

    TooLong(String what) {
      super(what, null, false, false);
    }
  }

  private void append(int stop) throws TooLong {
    int more = stop - at;
    if (length + more > LONGEST) throw new TooLong("a line of more than " + LONGEST + " signs");
    if (length + more > line.length)
      line = Arrays.copyOf(line, Math.max(length + more, 2 * line.length));
    System.arraycopy(buffer, at, line, length, more);
    length += more;
    at = stop;
  }

  private boolean fill() throws TooLong {
    in.progressed();
    try {
      int n = reader.read(buffer, 0, buffer.length);
      at = 0;
      end = Math.max(n, 0);
      return n > 0;
    } catch (IOException e) {
      Optional<IOException> failure = in.failure();
      if (failure.isPresent()) throw new UncheckedIOException(failure.get());
      throw new TooLong("at most " + limits.bytes() / 1_000_000 + " MB in all");
    }
  }

  /** The signs of the line; the first {@link #length()} count, until the next call. */
  char[] chars() {
    return line;
  }

  int length() {
    return length;
  }

  String text() {
    return new String(line, 0, length);
  }

  /** {@code line 12}, counted from 1. */
  String place() {
    return "line " + number;
  }

  Supplier<String> placeOfNow() {
    String now = place();
    return () -> now;
  }

  Issue tooLong(TooLong e) {
    return Issue.at(Issue.Kind.TOO_LARGE, place(), String.valueOf(e.getMessage()));
  }
}
