package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import milewarden.track.Issue;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Streams without an end: none is read to it. What memory they need, LargeFileProof measures. */
final class LargeFileTest {
  /** A beginning, and then the same for ever; {@code N} counts. */
  private static final class Endless extends InputStream {
    private final String again;
    private byte[] piece;
    private int at;
    private int count;
    private long given;

    Endless(String open, String again) {
      this.again = again;
      piece = open.getBytes(StandardCharsets.US_ASCII);
    }

    @Override
    public int read() {
      if (at == piece.length) {
        piece = again.replace("N", "" + count++).getBytes(StandardCharsets.US_ASCII);
        at = 0;
      }
      given++;
      return piece[at++];
    }
  }

  @ParameterizedTest
  // What never ends; the bytes that may be taken before it is known, by ReadLimits and the length
  // of one token.
  @CsvSource({
    "'<gpx><trk><trkseg>', '<trkpt lat=\"1.5\" lon=\"2.5\"><ele>N</ele></trkpt>', TOO_MANY_FIXES, 70000000",
    "'<gpx><!--', ' never ending N', TOO_LARGE, 18000000",
    "'<gpx a=\"', 'N', TOO_LARGE, 18000000",
    "'<gpx>', '<a>', TOO_DEEP, 100000",
    "'lat,lon\n', '1.5,N.5', TOO_LARGE, 18000000",
    "'$GPRMC,', 'N', TOO_LARGE, 18000000",
    "'{\"type\":\"', 'N', TOO_LARGE, 18000000",
    "'{\"type\":', '[', TOO_DEEP, 100000",
  })
  void isRefusedEarlyWithItsReason(String open, String again, Issue.Kind why, long most)
      throws IOException {
    try (Endless in = new Endless(open, again)) {
      Optional<Issue> refused =
          TrackFormats.read(in).fold(u -> Optional.empty(), r -> Optional.of(r.why()));
      assertThat(refused.map(Issue::kind)).as("" + refused).contains(why);
      assertThat(in.given).isLessThan(most);
    }
  }
}
