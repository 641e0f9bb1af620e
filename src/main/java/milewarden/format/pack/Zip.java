package milewarden.format.pack;

import java.io.ByteArrayInputStream;
import java.io.EOFException;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.SequenceInputStream;
import java.util.Optional;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipInputStream;
import milewarden.track.Issue;

/**
 * The files in a zip, one after the other as they lie in it, within bounds.
 *
 * <p>An entry's name is data from outside: {@link EntryName} makes a path of it that cannot leave
 * its folder. Hidden files and what packers add of their own are stepped over.
 *
 * @see "PKWARE, .ZIP File Format Specification"
 */
public final class Zip {
  /**
   * Our own bounds: a season's recordings are a few thousand; a bomb is far more, or far larger.
   */
  static final int MOST_ENTRIES = 10_000;

  private final Ending ending;
  private final ZipInputStream zip;
  private final long mostBytes;
  private long unpacked;
  private int entries;

  private Zip(InputStream packed, long mostBytes) {
    this.ending = new Ending(packed);
    this.zip = new ZipInputStream(ending);
    this.mostBytes = mostBytes;
  }

  /** Whether a file that begins so is a zip: with an entry, or empty. */
  public static boolean recognises(byte[] head) {
    return head.length > 3
        && head[0] == 'P'
        && head[1] == 'K'
        && (head[2] == 3 && head[3] == 4 || head[2] == 5 && head[3] == 6);
  }

  /** Takes a file out of the zip. */
  @FunctionalInterface
  public interface Taker {
    /**
     * @param name the entry's path, safe, with slashes
     * @param bytes what it holds; need not be read to its end
     * @return false where no more entries are wanted
     */
    boolean take(String name, InputStream bytes) throws IOException;
  }

  /**
   * Hands out each file.
   *
   * @param head the first bytes, taken from {@code rest} before
   * @param mostBytes of all entries together, unpacked
   * @return why not all of them could be handed out; empty where they were
   * @throws IOException where the stream below or the taker fails
   */
  public static Optional<Issue> each(byte[] head, InputStream rest, long mostBytes, Taker taker)
      throws IOException {
    InputStream whole = new SequenceInputStream(new ByteArrayInputStream(head), rest);
    return new Zip(whole, mostBytes).each(taker);
  }

  private Optional<Issue> each(Taker taker) throws IOException {
    try {
      for (ZipEntry e = zip.getNextEntry(); e != null; e = zip.getNextEntry()) {
        if (++entries > MOST_ENTRIES)
          return issue(Issue.Kind.PACKED_TOO_MUCH, "more than " + MOST_ENTRIES + " files");
        Entry entry = new Entry();
        boolean wanted = !e.isDirectory() && !EntryName.isHidden(e.getName());
        if (wanted && !taker.take(EntryName.safe(e.getName()), entry)) return Optional.empty();
        drain(entry);
        if (entry.broken.isPresent()) return entry.broken;
      }
      return ending.seen() ? Optional.empty() : issue(Issue.Kind.MALFORMED, "it breaks off");
    } catch (ZipException | EOFException e) {
      return issue(Issue.Kind.MALFORMED, String.valueOf(e.getMessage()));
    } catch (IllegalArgumentException e) {
      // The library's word for a name that is no text.
      return issue(Issue.Kind.MALFORMED, "a file name that is no text");
    }
  }

  private static Optional<Issue> issue(Issue.Kind kind, String detail) {
    return Optional.of(Issue.of(kind, detail));
  }

  private static void drain(Entry entry) throws IOException {
    byte[] away = new byte[1 << 14];
    while (entry.read(away, 0, away.length) >= 0) continue;
  }

  /** Watches for the record at the end of every zip: one cut between two files shows no damage. */
  private static final class Ending extends FilterInputStream {
    private static final int SIGNATURE = 'P' << 24 | 'K' << 16 | 5 << 8 | 6;

    private int last;
    private boolean seen;

    Ending(InputStream in) {
      super(in);
    }

    /** Reads on to the end of the file, and says whether the record came. */
    boolean seen() throws IOException {
      byte[] away = new byte[1 << 14];
      while (!seen && read(away, 0, away.length) >= 0) continue;
      return seen;
    }

    @Override
    public int read() throws IOException {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
      int n = super.read(bytes, offset, length);
      for (int i = offset; i < offset + n && !seen; i++) {
        last = last << 8 | bytes[i] & 0xff;
        seen = last == SIGNATURE;
      }
      return n;
    }
  }

  /** The entry at hand, counted into what was unpacked of all; it ends where it is damaged. */
  private final class Entry extends InputStream {
    private Optional<Issue> broken = Optional.empty();

    @Override
    public int read() throws IOException {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
      if (broken.isPresent()) return -1;
      try {
        int n = zip.read(bytes, offset, length);
        if (n > 0) unpacked += n;
        if (unpacked <= mostBytes) return n;
        broken =
            issue(
                Issue.Kind.PACKED_TOO_MUCH, "more than " + mostBytes / 1_000_000 + " MB unpacked");
      } catch (ZipException | EOFException e) {
        broken = issue(Issue.Kind.MALFORMED, String.valueOf(e.getMessage()));
      }
      return -1;
    }
  }
}
