package milewarden.format.fit;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Optional;
import java.util.function.Supplier;
import milewarden.format.fixes.BoundedInput;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.Issue;
import milewarden.track.TrackRead;
import org.jspecify.annotations.Nullable;

/**
 * FIT files, also several behind one another, which are read as one recording.
 *
 * <p>A part is a header of 12 or 14 bytes, messages, and a checksum of two bytes. A message begins
 * with a byte that says whether it defines a local kind (bit 6), or is one (with bit 7, five bits
 * of its time are in the same byte). A file that breaks off, or goes on with what cannot be read,
 * keeps the fixes up to there.
 *
 * @see "the published description of the layout; message and field numbers are from memory"
 */
public final class FitReader {
  private static final byte[] SIGNATURE = {'.', 'F', 'I', 'T'};
  private static final int SIGNATURE_AT = 8;
  private static final int SHORTEST_HEADER = 12;

  private final BoundedInput bounded;
  private final FitInput in;
  private final ReadLimits limits;
  private final FitRecording recording;
  private final FitMessage message = new FitMessage();
  private @Nullable FitDefinition[] kinds = new FitDefinition[16];
  private long messageAt;
  // With its checksum of two bytes, by its header; 0 where the header is not read.
  private long wholeSize;
  private long lastTime = FitMessage.NONE;

  public FitReader(FileHead head, InputStream rest, ReadLimits limits) {
    this.limits = limits;
    bounded = new BoundedInput(head.bytes(), rest, limits.bytes());
    in = new FitInput(bounded);
    recording = new FitRecording(place());
  }

  /** Whether a file that begins so is of this format. */
  public static boolean recognises(FileHead head) {
    return head.holds(SIGNATURE, SIGNATURE_AT);
  }

  private Supplier<String> place() {
    return () -> "byte " + messageAt;
  }

  /** What cannot be read on, and why; never leaves this class. */
  private static final class Unreadable extends Exception {
    private static final long serialVersionUID = 1;

    Unreadable(String why) {
      super(why, null, false, false);
    }
  }

  /**
   * Reads to the end of the file, or to where it breaks.
   *
   * @throws UncheckedIOException where the stream below fails
   */
  public TrackRead read() {
    try {
      do part();
      while (!in.atEnd());
    } catch (FitInput.BrokenOff e) {
      recording.issue(Issue.Kind.TRUNCATED, "ends at byte " + in.position() + announced());
    } catch (Unreadable e) {
      if (recording.fixes() == 0)
        return refused(Issue.Kind.MALFORMED, String.valueOf(e.getMessage()));
      recording.issue(Issue.Kind.TRUNCATED, String.valueOf(e.getMessage()));
    } catch (IOException e) {
      Optional<IOException> failure = bounded.failure();
      if (failure.isPresent()) throw new UncheckedIOException(failure.get());
      return refused(Issue.Kind.TOO_LARGE, "at most " + limits.bytes() / 1_000_000 + " MB");
    }
    if (recording.seen() > limits.fixes())
      return refused(Issue.Kind.TOO_MANY_FIXES, "more than " + limits.fixes());
    return recording.finished();
  }

  private String announced() {
    return wholeSize > in.position() ? " of " + wholeSize : "";
  }

  private TrackRead refused(Issue.Kind kind, String detail) {
    return new TrackRead.Refused(Issue.at(kind, place().get(), detail));
  }

  /** One file of perhaps several: header, messages, checksum. */
  private void part() throws IOException, FitInput.BrokenOff, Unreadable {
    messageAt = in.position();
    in.startSum();
    int headerSize = in.next();
    if (headerSize < SHORTEST_HEADER) throw leftOver();
    byte[] header = new byte[headerSize - 1];
    in.read(header, header.length);
    for (int i = 0; i < SIGNATURE.length; i++)
      if (header[SIGNATURE_AT - 1 + i] != SIGNATURE[i]) throw leftOver();
    long dataSize = 0;
    for (int i = 3; i >= 0; i--) dataSize = dataSize << 8 | header[3 + i] & 0xff;
    kinds = new FitDefinition[16];
    lastTime = FitMessage.NONE;
    recording.startPart();
    // A recorder writes the size last: 0 where its battery was faster.
    boolean unfinished = dataSize == 0;
    long end = in.position() + dataSize;
    wholeSize = unfinished ? 0 : end + 2;
    while (unfinished ? !in.atEnd() : in.position() < end) {
      if (recording.seen() > limits.fixes()) return;
      messageAt = in.position();
      message(in.next());
    }
    if (unfinished) recording.issue(Issue.Kind.TRUNCATED, "its header gives no size");
    else checksum();
  }

  private Unreadable leftOver() {
    return new Unreadable("what stands here is no recording");
  }

  private void checksum() throws IOException, FitInput.BrokenOff {
    int summed = in.sum();
    int low = in.next();
    int written = in.next() << 8 | low;
    if (written != summed)
      recording.issue(
          Issue.Kind.CHECKSUM_WRONG, "%04X written, %04X summed".formatted(written, summed));
  }

  private void message(int header) throws IOException, FitInput.BrokenOff, Unreadable {
    if ((header & 0x80) != 0) {
      data(header >> 5 & 3, compressed(header & 0x1f));
    } else if ((header & 0x40) != 0) {
      kinds[header & 0xf] = definition((header & 0x20) != 0);
    } else {
      data(header & 0xf, FitMessage.NONE);
    }
  }

  /** The last time, moved on by five bits that roll over. */
  private long compressed(int offset) {
    if (lastTime == FitMessage.NONE) return FitMessage.NONE;
    long time = (lastTime & ~0x1fL) + offset;
    return time >= lastTime ? time : time + 0x20;
  }

  private FitDefinition definition(boolean developerFields) throws IOException, FitInput.BrokenOff {
    in.next(); // reserved
    boolean bigEndian = in.next() == 1;
    int first = in.next();
    int second = in.next();
    FitDefinition kind =
        new FitDefinition(bigEndian ? first << 8 | second : second << 8 | first, bigEndian);
    int fields = in.next();
    for (int i = 0; i < fields; i++) kind.addField(in.next(), in.next(), in.next());
    if (developerFields) {
      int more = in.next();
      for (int i = 0; i < more; i++) {
        in.next(); // its number
        kind.addDeveloperField(in.next());
        in.next(); // whose it is
      }
    }
    return kind;
  }

  private void data(int local, long compressedTime)
      throws IOException, FitInput.BrokenOff, Unreadable {
    FitDefinition kind = kinds[local];
    if (kind == null) throw new Unreadable("a message of the kind " + local + ", never defined");
    in.read(message.fill(kind), kind.length());
    long time = message.value(FitRecording.TIMESTAMP);
    if (time == FitMessage.NONE) time = compressedTime;
    if (time != FitMessage.NONE) lastTime = time;
    recording.accept(message, time);
  }
}
