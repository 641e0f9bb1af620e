package milewarden.format.fuzz;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.ByteArrayInputStream;
import milewarden.format.TrackFormats;

/** Gzip and zip of any bytes, and the choice of the reader by content. */
final class PackedFuzz {
  @FuzzTest(maxDuration = "10m")
  void everyInputIsReadOrRefused(byte[] bytes) {
    Honest.check(TrackFormats.read(new ByteArrayInputStream(bytes), Honest.LIMITS));
  }
}
