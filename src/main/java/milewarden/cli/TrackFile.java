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
import milewarden.format.TrackFormats;
import milewarden.format.text.ColumnAnswers;
import milewarden.track.TrackRead;

/** A recording of any size, read without holding its bytes. */
record TrackFile(String sha256, TrackRead read) {
  // Small files are read from memory, where markup that breaks a rule is read twice.
  private static final long SMALL = 64L << 20;

  static TrackFile of(Path file, ColumnAnswers columns) throws IOException {
    if (Files.size(file) <= SMALL) {
      byte[] bytes = Files.readAllBytes(file);
      return new TrackFile(
          Digest.sha256(bytes), TrackFormats.read(new ByteArrayInputStream(bytes), columns));
    }
    try (DigestInputStream in = new DigestInputStream(Files.newInputStream(file), Digest.sha())) {
      InputStream buffered = new BufferedInputStream(in, 1 << 16);
      TrackRead read = TrackFormats.read(buffered, columns);
      // What a refusal left unread belongs to the file's name, too.
      buffered.transferTo(OutputStream.nullOutputStream());
      return new TrackFile(HexFormat.of().formatHex(in.getMessageDigest().digest()), read);
    }
  }
}
