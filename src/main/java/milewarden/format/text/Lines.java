package milewarden.format.text;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.SequenceInputStream;
import java.io.UncheckedIOException;
import java.util.Arrays;
import java.util.Optional;
import java.util.function.Supplier;
import milewarden.format.fixes.BoundedInput;
import milewarden.format.fixes.EightBytes;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.Issue;

/**
 * A text file line by line; lines end with a line feed, a carriage return, or both. A line is
 * handed out where it lies, as one byte a sign.
 *
 * <p>From the first byte on that is not ASCII the text is decoded, and the signs themselves are
 * there, too.
 */
final class Lines {
  /** A line longer than this is no line of a recording: our own bound. */
  static final int LONGEST = 1 << 16;

  /** Stands in the bytes for any sign beyond ASCII: it is part of no number and no word. */
  static final byte BEYOND_ASCII = 0x7f;

  private static final int AT_ONCE = 1 << 13;
  private static final long LINE_FEEDS = EightBytes.each('\n');
  private static final long RETURNS = EightBytes.each('\r');

  private final BoundedInput in;
  private final ReadLimits limits;
  private Optional<Reader> decoder = Optional.empty();
  private byte[] bytes = new byte[AT_ONCE + 256 + EightBytes.BEHIND];
  private char[] signs = {};
  private int at;
  private int end;
  private int start;
  private int stop;
  private int number;
  private boolean afterReturn;

  Lines(FileHead head, InputStream rest, ReadLimits limits) {
    this.limits = limits;
    in = new BoundedInput(head.withoutMark(), rest, limits.bytes());
    // Bytes that are no text of this encoding become marks of replacement and are never digits.
    if (!head.encoding().equals(UTF_8))
      decoder = Optional.of(new InputStreamReader(in, head.encoding()));
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
    number++;
    start = at;
    stop = at;
    if (at == end && !fill()) return false;
    // Both together end one line.
    if (afterReturn && bytes[start] == '\n') start++;
    afterReturn = false;
    int looked = start;
    while (true) {
      stop = lineEnd(looked);
      if (stop - start > LONGEST) throw new TooLong("a line of more than " + LONGEST + " signs");
      if (stop < end) {
        afterReturn = bytes[stop] == '\r';
        at = stop + 1;
        return true;
      }
      looked = stop - start;
      at = stop;
      if (!fill()) return stop > start;
    }
  }

  private int lineEnd(int from) {
    int i = from;
    for (; i + 8 <= end; i += 8) {
      long eight = EightBytes.of(bytes, i, end);
      long found = EightBytes.where(eight, LINE_FEEDS) | EightBytes.where(eight, RETURNS);
      if (found != 0) return i + EightBytes.first(found);
    }
    while (i < end && bytes[i] != '\n' && bytes[i] != '\r') i++;
    return i;
  }

  /** The file or one of its lines is longer than any recording's. */
  static final class TooLong extends Exception {
    private static final long serialVersionUID = 1;

    TooLong(String what) {
      super(what, null, false, false);
    }
  }

  /** Reads on, behind what there is of the line at hand. */
  private boolean fill() throws TooLong {
    int begun = end - start;
    if (bytes.length < begun + AT_ONCE + EightBytes.BEHIND)
      bytes = Arrays.copyOf(bytes, 2 * bytes.length);
    System.arraycopy(bytes, start, bytes, 0, begun);
    if (decoder.isPresent()) {
      if (signs.length < bytes.length) signs = Arrays.copyOf(signs, bytes.length);
      System.arraycopy(signs, start, signs, 0, begun);
    }
    start = 0;
    at = begun;
    stop = begun;
    end = begun;
    in.progressed();
    try {
      if (decoder.isPresent()) decode(decoder.get());
      else read();
    } catch (IOException e) {
      Optional<IOException> failure = in.failure();
      if (failure.isPresent()) throw new UncheckedIOException(failure.get());
      throw new TooLong("at most " + limits.bytes() / 1_000_000 + " MB in all");
    }
    return end > begun;
  }

  private void read() throws IOException {
    int n = in.read(bytes, end, AT_ONCE);
    if (n <= 0) return;
    if (EightBytes.areAscii(bytes, end, end + n)) {
      end += n;
      return;
    }
    signs = new char[bytes.length];
    for (int i = 0; i < end; i++) signs[i] = (char) bytes[i];
    byte[] first = Arrays.copyOfRange(bytes, end, end + n);
    InputStream whole = new SequenceInputStream(new ByteArrayInputStream(first), in);
    Reader reader = new InputStreamReader(whole, UTF_8);
    decoder = Optional.of(reader);
    decode(reader);
  }

  private void decode(Reader reader) throws IOException {
    int n = reader.read(signs, end, AT_ONCE);
    for (int i = 0; i < n; i++, end++) bytes[end] = byteOf(signs[end]);
  }

  static byte byteOf(char sign) {
    return sign < 0x80 ? (byte) sign : BEYOND_ASCII;
  }

  /** One byte a sign; the line's begin at {@link #start()}. Holds until the next call. */
  byte[] bytes() {
    return bytes;
  }

  /** The signs at the places of their bytes; empty where all so far were of ASCII. */
  char[] signs() {
    return signs;
  }

  int start() {
    return start;
  }

  /** Behind the last sign of the line. */
  int stop() {
    return stop;
  }

  int length() {
    return stop - start;
  }

  String text() {
    return text(bytes, signs, start, stop);
  }

  /** The text of some bytes whose signs, where there are any, have the same places. */
  static String text(byte[] bytes, char[] signs, int start, int stop) {
    return signs.length == 0
        ? new String(bytes, start, stop - start, UTF_8)
        : new String(signs, start, stop - start);
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
