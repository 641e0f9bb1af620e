package milewarden.format.fuzz;

import com.code_intelligence.jazzer.junit.FuzzTest;
import milewarden.format.xml.XmlTrackReader;

/** TCX of any bytes. */
final class TcxFuzz {
  @FuzzTest(maxDuration = "10m")
  void everyInputIsReadOrRefused(byte[] bytes) {
    Honest.reads(bytes, (head, rest) -> new XmlTrackReader(head, rest, Honest.LIMITS).read());
  }
}
