package milewarden.report.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.Test;

final class StripTest {
  @Test
  void aCoordinateIsWrittenAsTheJdkFormatsIt() {
    Random chance = new Random(20261127);
    for (int i = 0; i < 20_000; i++) {
      // Any, and those that end in a five, where rounding may go either way.
      double x = i % 2 == 0 ? 160 * chance.nextDouble() : chance.nextInt(3200) / 20.0;
      assertThat(Strip.tenths(x)).isEqualTo(String.format(Locale.ROOT, "%.1f", x));
    }
  }
}
