package milewarden.intake.drop;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.format.TrackFormats;
import milewarden.format.pack.Zip;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.track.Issue;

/**
 * What one dropped file holds: itself, or the files of a zip as if they had been unpacked where it
 * lies. A zip of one recording is that recording, and stays as it came.
 */
final class Unpacking {
  /** Of all files of a zip together, unpacked: our own bound, four recordings of the largest. */
  private static final long MOST_BYTES = 4 * Receiving.LARGEST_BYTES;

  private Unpacking() {}

  /**
   * One file to be kept.
   *
   * @param path from the inbox on, with slashes
   */
  record Part(String path, Contents.Packed bytes) {}

  /** At least one part; what speaks for others comes first. */
  static List<Part> of(String path, byte[] bytes) {
    Part itself = new Part(path, Contents.pack(bytes));
    if (!Zip.recognises(bytes) || !holdsSeveral(bytes)) return List.of(itself);
    List<Part> parts = new ArrayList<>();
    List<Part> tracks = new ArrayList<>();
    String folder = path.substring(0, path.lastIndexOf('/') + 1);
    Optional<Issue> broken =
        each(
            bytes,
            (name, entry) -> {
              Part part = new Part(folder + name, Contents.pack(entry.readAllBytes()));
              if (DroppedName.kind(name) == Kind.TRACK) tracks.add(part);
              else parts.add(part);
              return true;
            });
    parts.addAll(tracks);
    // What could not be unpacked is told where the zip itself is read.
    if (broken.isPresent() || parts.isEmpty()) parts.add(itself);
    return parts;
  }

  private static boolean holdsSeveral(byte[] bytes) {
    boolean[] speaks = new boolean[1];
    each(
        bytes,
        (name, entry) -> {
          speaks[0] |= DroppedName.kind(name) != Kind.TRACK;
          return true;
        });
    return speaks[0]
        || TrackFormats.read(new ByteArrayInputStream(bytes))
            .fold(u -> false, r -> r.why().kind() == Issue.Kind.SEVERAL_RECORDINGS);
  }

  private static Optional<Issue> each(byte[] bytes, Zip.Taker taker) {
    try {
      return Zip.each(new byte[0], new ByteArrayInputStream(bytes), MOST_BYTES, taker);
    } catch (IOException e) {
      // Bytes in memory fail nobody.
      throw new UncheckedIOException(e);
    }
  }
}
