package milewarden.format.xml;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/**
 * The bytes of a file on their way to the parser, with runs of plain fixes taken out. In the place
 * of a run stands a processing instruction, so that the parser says when its turn has come; it has
 * as many lines as the run.
 *
 * <p>A fix is taken only if its markup is, byte for byte, that of a fix which the parser has had,
 * and its values are in plain form and in order. Everything else, and whatever is said of it, stays
 * the parser's. A run inside of a comment, say, never has its turn, as its fixes would not have
 * had.
 */
final class FixRuns extends InputStream {
  private static final int BUFFER = 1 << 16;
  // A fix that is longer is left to the parser.
  private static final int LONGEST_FIX = 1 << 13;
  // With and without a pulse, a speed, a height: a recorder has a few.
  private static final int MOST_SHAPES = 8;

  private final InputStream in;
  // The name of the instruction that stands for a run: one that no file can have of its own.
  private final String target = "fixes-" + Long.toHexString(new SplittableRandom().nextLong());
  private final FixRun run = new FixRun();
  private final PlainStamp times = new PlainStamp();
  private final List<FixShape> shapes = new ArrayList<>();
  private Optional<FixMarkup> markup = Optional.empty();
  private byte[] opening = {};
  private byte[] buffer = {};
  private int at;
  private int end;
  private boolean ended;
  private boolean handedAll;
  // Bytes of the buffer, or of an instruction, that the parser gets next.
  private byte[] out = {};
  private int outAt;
  private int outEnd;
  private int number;
  private boolean waiting;
  private int columnsLess;
  private byte last;
  private boolean inInstruction;

  FixRuns(InputStream in) {
    this.in = in;
  }

  /** From here on fixes of this markup are taken out. */
  void take(FixMarkup of) {
    markup = Optional.of(of);
    opening = ("<" + of.element()).getBytes(StandardCharsets.US_ASCII);
    buffer = new byte[BUFFER];
  }

  /**
   * The run whose turn it is.
   *
   * @param name of an instruction
   * @param text of it
   * @return empty where it stands for none
   */
  Optional<FixRun> turn(String name, String text) {
    if (!name.equals(target) || !waiting || !text.strip().equals(String.valueOf(number)))
      return Optional.empty();
    waiting = false;
    return Optional.of(run);
  }

  /** By how many columns the last line of the run is shorter for the parser than in the file. */
  int columnsLess() {
    return columnsLess;
  }

  /** Whether the parser asked for more and there was no more. */
  boolean ended() {
    return handedAll;
  }

  @Override
  public int read() throws IOException {
    byte[] one = new byte[1];
    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
  }

  @Override
  public int read(byte[] to, int offset, int length) throws IOException {
    if (markup.isEmpty()) {
      int n = in.read(to, offset, length);
      handedAll = n < 0;
      follow(to, offset, offset + Math.max(0, n));
      return n;
    }
    while (outAt == outEnd)
      if (!advance(markup.get())) {
        handedAll = true;
        return -1;
      }
    int n = Math.min(length, outEnd - outAt);
    System.arraycopy(out, outAt, to, offset, n);
    outAt += n;
    return n;
  }

  private void pass(int to) {
    follow(buffer, at, to);
    out = buffer;
    outAt = at;
    outEnd = to;
    at = to;
  }

  /** Whether an instruction of the file is open: one of ours in it would end it. */
  private void follow(byte[] bytes, int from, int to) {
    for (int i = from; i < to; i++) {
      if (last == '<' && bytes[i] == '?') inInstruction = true;
      if (last == '?' && bytes[i] == '>') inInstruction = false;
      last = bytes[i];
    }
  }

  /** Finds what the parser gets next; false where there is no more. */
  private boolean advance(FixMarkup of) throws IOException {
    if (end - at < LONGEST_FIX) fill();
    if (at == end) return false;
    int fix = nextFix();
    if (fix > at) pass(fix);
    else if (inInstruction || !takeRun()) passFix(of);
    return true;
  }

  /** Nothing of the buffer is with the parser when this is called. */
  private void fill() throws IOException {
    System.arraycopy(buffer, at, buffer, 0, end - at);
    end -= at;
    at = 0;
    while (!ended && end < LONGEST_FIX) {
      int n = in.read(buffer, end, buffer.length - end);
      if (n < 0) ended = true;
      else end += n;
    }
  }

  /** Where the next fix begins, or how far there is none. */
  private int nextFix() {
    int last = end - opening.length;
    for (int i = at; i < last; i++)
      if (buffer[i] == '<'
          && Arrays.equals(buffer, i, i + opening.length, opening, 0, opening.length)
          && endsName(buffer[i + opening.length])) return i;
    return ended ? end : Math.max(at + 1, last);
  }

  private static boolean endsName(byte b) {
    return b == '>' || isBlank(b);
  }

  /** A fix that was not taken, for the parser; the next like it may be taken. */
  private void passFix(FixMarkup of) {
    if (shapes.size() < MOST_SHAPES) {
      int most = Math.min(end, at + LONGEST_FIX);
      ShapeScan.of(of, buffer, at, most)
          .filter(s -> shapes.stream().noneMatch(s::isLike))
          .ifPresent(shapes::add);
    }
    pass(at + opening.length);
  }

  private boolean takeRun() {
    run.clear();
    waiting = false;
    int lines = 0;
    int next = at;
    int stop = at;
    while (!run.isFull() && (ended || end - next >= LONGEST_FIX)) {
      int behind = read(next);
      if (behind == FixShape.NO) break;
      FixShape shape = shapes.get(0);
      lines += shape.lines();
      run.end(lines, shape);
      stop = behind;
      next = behind;
      // A carriage return alone breaks a line, too: left to the parser.
      for (; next < end && isBlank(buffer[next]) && buffer[next] != '\r'; next++)
        if (buffer[next] == '\n') lines++;
    }
    if (run.size() == 0) return false;
    instruct(stop);
    at = stop;
    return true;
  }

  /** Where the fix ends that begins there, of the shape that comes first from now on. */
  private int read(int from) {
    for (int s = 0; s < shapes.size(); s++) {
      run.begin();
      int behind = shapes.get(s).read(buffer, from, end, times, run);
      if (behind == FixShape.NO) continue;
      if (s > 0) shapes.add(0, shapes.remove(s));
      return behind;
    }
    return FixShape.NO;
  }

  private static boolean isBlank(byte b) {
    return b == ' ' || b == '\n' || b == '\t' || b == '\r';
  }

  /** The instruction in the place of the bytes up to there. */
  private void instruct(int stop) {
    waiting = true;
    number++;
    StringBuilder text = new StringBuilder("<?" + target + " " + number);
    text.append("\n".repeat(run.lines())).append("?>");
    out = text.toString().getBytes(StandardCharsets.US_ASCII);
    outAt = 0;
    outEnd = out.length;
    int line = stop;
    while (line > at && buffer[line - 1] != '\n') line--;
    columnsLess = stop - line - (run.lines() == 0 ? out.length : 2);
  }
}
