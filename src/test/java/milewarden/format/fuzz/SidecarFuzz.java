package milewarden.format.fuzz;

import com.code_intelligence.jazzer.junit.FuzzTest;
import milewarden.format.SidecarTags;

/** Files of tags beside a track, of any bytes. */
final class SidecarFuzz {
  @FuzzTest(maxDuration = "10m")
  void everyInputIsReadOrRefused(byte[] bytes) {
    SidecarTags.read(bytes, "a.gpx").fold(usable -> usable.rows().size(), refused -> 0);
  }
}
