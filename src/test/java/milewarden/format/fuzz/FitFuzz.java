package milewarden.format.fuzz;

import com.code_intelligence.jazzer.junit.FuzzTest;
import milewarden.format.fit.FitReader;

/** FIT files of any bytes. */
final class FitFuzz {
  @FuzzTest(maxDuration = "10m")
  void everyInputIsReadOrRefused(byte[] bytes) {
    Honest.reads(bytes, (head, rest) -> new FitReader(head, rest, Honest.LIMITS).read());
  }
}
