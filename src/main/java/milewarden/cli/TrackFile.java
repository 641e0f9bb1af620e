package milewarden.cli;

import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.util.HexFormat;
import java.util.Optional;
import milewarden.format.TrackFormats;
import milewarden.format.text.ColumnAnswers;
import milewarden.track.TrackRead;

/**
 * A recording of any size, read without holding its bytes.
 *
 * @param sha256 the name of its bytes; empty where nobody asked for it
 */
record TrackFile(Optional<String> sha256, TrackRead read) {
  // Small files are read from memory, where markup that breaks a rule is read twice.
  private static final long SMALL = 64L << 20;

  static TrackFile of(Path file, ColumnAnswers columns, boolean named) throws IOException {
    if (Files.size(file) <= SMALL) {
      byte[] bytes = Files.readAllBytes(file);
      return new TrackFile(
          named ? Optional.of(Digest.sha256(bytes)) : Optional.empty(),
          TrackFormats.read(new ByteArrayInputStream(bytes), columns));
    }
    DigestInputStream digest = new DigestInputStream(Files.newInputStream(file), Digest.sha());
    digest.on(named);
    try (InputStream in = new BufferedInputStream(digest, 1 << 16)) {
      TrackRead read = TrackFormats.read(in, columns);
      if (!named) return new TrackFile(Optional.empty(), read);
      // What a refusal left unread belongs to the file's name, too.
      in.transferTo(OutputStream.nullOutputStream());
      String sha256 = HexFormat.of().formatHex(digest.getMessageDigest().digest());
      return new TrackFile(Optional.of(sha256), read);
    }
  }
}
