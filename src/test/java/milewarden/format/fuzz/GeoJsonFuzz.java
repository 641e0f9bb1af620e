package milewarden.format.fuzz;

import com.code_intelligence.jazzer.junit.FuzzTest;
import milewarden.format.text.GeoJsonReader;

/** GeoJSON of any bytes. */
final class GeoJsonFuzz {
  @FuzzTest(maxDuration = "10m")
  void everyInputIsReadOrRefused(byte[] bytes) {
    Honest.reads(bytes, (head, rest) -> new GeoJsonReader(head, rest, Honest.LIMITS).read());
  }
}
