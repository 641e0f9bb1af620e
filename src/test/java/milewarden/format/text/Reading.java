package milewarden.format.text;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import milewarden.format.TrackFormats;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.TrackRead;

/** Reads texts as files, and holds every one to the sum of what was kept and dropped. */
final class Reading {
  private Reading() {}

  /** The first line of a text, gone to. */
  static Lines line(String text) {
    InputStream in = new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8));
    try {
      Lines lines = new Lines(FileHead.of(in), in, ReadLimits.DEFAULT);
      if (lines.next()) return lines;
      throw new AssertionError("no line: " + text);
    } catch (IOException | Lines.TooLong e) {
      throw new AssertionError(e);
    }
  }

  static TrackRead of(byte[] bytes) {
    return TrackFormats.read(new ByteArrayInputStream(bytes));
  }

  static TrackRead.Usable usable(String text) {
    return usable(text.getBytes(StandardCharsets.UTF_8));
  }

  static TrackRead.Usable usable(byte[] bytes) {
    TrackRead.Usable read =
        of(bytes)
            .fold(
                u -> u,
                r -> {
                  throw new AssertionError("refused: " + r.why());
                });
    Drops d = read.drops();
    assertThat(d.kept() + d.dropped()).isEqualTo(d.seen());
    assertThat(d.kept()).isEqualTo(read.track().size());
    return read;
  }

  static Issue refused(String text) {
    return of(text.getBytes(StandardCharsets.UTF_8))
        .fold(
            u -> {
              throw new AssertionError("read: " + u.drops());
            },
            r -> r.why());
  }
}
