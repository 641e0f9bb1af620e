package milewarden.format.fuzz;

import com.code_intelligence.jazzer.junit.FuzzTest;
import milewarden.format.SessionSheet;

/** Field sheets of any bytes. */
final class SheetFuzz {
  @FuzzTest(maxDuration = "10m")
  void everyInputIsReadOrRefused(byte[] bytes) {
    SessionSheet.read(bytes).fold(usable -> usable.rows().size(), refused -> 0);
  }
}
