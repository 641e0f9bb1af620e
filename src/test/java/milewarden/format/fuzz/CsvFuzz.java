package milewarden.format.fuzz;

import com.code_intelligence.jazzer.junit.FuzzTest;
import milewarden.format.text.CsvReader;

/** Tables of fixes of any bytes. */
final class CsvFuzz {
  @FuzzTest(maxDuration = "10m")
  void everyInputIsReadOrRefused(byte[] bytes) {
    Honest.reads(bytes, (head, rest) -> new CsvReader(head, rest, Honest.LIMITS).read());
  }
}
