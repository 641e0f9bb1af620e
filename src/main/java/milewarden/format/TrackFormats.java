package milewarden.format;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.format.fit.FitReader;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.format.fixes.Rereadable;
import milewarden.format.pack.Gzip;
import milewarden.format.pack.Zip;
import milewarden.format.text.ColumnAnswers;
import milewarden.format.text.CsvReader;
import milewarden.format.text.GeoJsonReader;
import milewarden.format.text.NmeaReader;
import milewarden.format.xml.XmlTrackReader;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.TrackRead;

/** Reads a recording in whichever format its content is; the file's name plays no part. */
public final class TrackFormats {
  private final ReadLimits limits;
  private final ColumnAnswers answers;

  private TrackFormats(ReadLimits limits, ColumnAnswers answers) {
    this.limits = limits;
    this.answers = answers;
  }

  /**
   * Reads a recording to its end; the caller closes the stream.
   *
   * @return a track with what was dropped, or the refusal; never an exception for what the bytes
   *     say
   * @throws UncheckedIOException where the stream itself fails
   */
  public static TrackRead read(InputStream bytes) {
    return read(bytes, ReadLimits.DEFAULT);
  }

  /** As {@link #read(InputStream)} with other limits. */
  public static TrackRead read(InputStream bytes, ReadLimits limits) {
    return new TrackFormats(limits, ColumnAnswers.NONE).of(bytes);
  }

  /** As {@link #read(InputStream)}, with what the tester said of a table's doubtful columns. */
  public static TrackRead read(InputStream bytes, ColumnAnswers answers) {
    return new TrackFormats(ReadLimits.DEFAULT, answers).of(bytes);
  }

  /**
   * Reads a recording of any size in bounded memory; opened once more where its markup is to be
   * mended.
   *
   * @throws UncheckedIOException where the bytes can't be had
   */
  public static TrackRead read(Rereadable.Source source, ColumnAnswers answers) {
    try (InputStream bytes = new Rereadable(source)) {
      return read(bytes, answers);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private TrackRead of(InputStream bytes) {
    try {
      FileHead head = FileHead.of(bytes);
      if (head.isEmpty()) return refused("the file is empty");
      if (Gzip.recognises(head.bytes())) return unzipped(Gzip.open(head.bytes(), bytes));
      if (Zip.recognises(head.bytes())) return onlyOne(head.bytes(), bytes);
      return plain(head, bytes);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private TrackRead plain(FileHead head, InputStream bytes) {
    if (FitReader.recognises(head)) return new FitReader(head, bytes, limits).read();
    if (UnknownContent.isWebPage(head)) return refused(UnknownContent.of(head));
    if (head.looksLikeXml()) return new XmlTrackReader(head, bytes, limits).read();
    if (GeoJsonReader.recognises(head)) return new GeoJsonReader(head, bytes, limits).read();
    if (NmeaReader.recognises(head)) return new NmeaReader(head, bytes, limits).read();
    if (CsvReader.recognises(head)) return new CsvReader(head, bytes, limits, answers).read();
    return refused(UnknownContent.of(head));
  }

  private TrackRead unzipped(Gzip gzip) throws IOException {
    FileHead head = FileHead.of(gzip);
    TrackRead read = head.isEmpty() ? refused("the file is empty") : plain(head, gzip);
    if (gzip.broken().isEmpty()) return read;
    Issue why = Issue.of(Issue.Kind.TRUNCATED, "packed bytes: " + gzip.broken());
    return read.fold(
        u -> new TrackRead.Usable(u.track(), with(u.drops(), why)),
        r -> new TrackRead.Refused(Issue.of(Issue.Kind.MALFORMED, why.detail())));
  }

  /** The one recording in a zip; what lies beside it that is no recording does not matter. */
  private TrackRead onlyOne(byte[] head, InputStream bytes) throws IOException {
    List<TrackRead> found = new ArrayList<>();
    List<TrackRead> refused = new ArrayList<>();
    Optional<Issue> broken =
        Zip.each(
            head,
            bytes,
            limits.bytes(),
            (name, entry) -> {
              FileHead first = FileHead.of(entry);
              TrackRead read = first.isEmpty() ? refused("the file is empty") : plain(first, entry);
              read.fold(u -> found.add(u), r -> refused.add(named(name, r.why())));
              return found.size() < 2;
            });
    if (found.size() > 1) return new TrackRead.Refused(Issue.of(Issue.Kind.SEVERAL_RECORDINGS, ""));
    if (found.isEmpty())
      return broken
          .map(i -> (TrackRead) new TrackRead.Refused(i))
          .orElse(refused.size() == 1 ? refused.get(0) : refused("a zip without a recording"));
    return broken.isEmpty()
        ? found.get(0)
        : found
            .get(0)
            .fold(u -> new TrackRead.Usable(u.track(), with(u.drops(), broken.get())), r -> r);
  }

  private static TrackRead named(String entry, Issue why) {
    return new TrackRead.Refused(new Issue(why.kind(), why.place(), entry + ": " + why.detail()));
  }

  private static Drops with(Drops drops, Issue why) {
    return drops.with(new Issue(Issue.Kind.TRUNCATED, why.place(), why.detail()));
  }

  private static TrackRead refused(String detail) {
    return new TrackRead.Refused(Issue.of(Issue.Kind.NOT_A_TRACK, detail));
  }
}
