package milewarden.format.fuzz;

import com.code_intelligence.jazzer.junit.FuzzTest;
import milewarden.format.text.NmeaReader;

/** NMEA 0183 logs of any bytes. */
final class NmeaFuzz {
  @FuzzTest(maxDuration = "10m")
  void everyInputIsReadOrRefused(byte[] bytes) {
    Honest.reads(bytes, (head, rest) -> new NmeaReader(head, rest, Honest.LIMITS).read());
  }
}
