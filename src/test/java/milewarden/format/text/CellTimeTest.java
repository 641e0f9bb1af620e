package milewarden.format.text;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.OffsetDateTime;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Rows that follow each other, each as if it stood alone. */
final class CellTimeTest {
  private static final String[] FORMS = {
    "2026-05-12T07:00:00Z",
    "2026-05-12 07:00:00",
    "2026-05-12T07:00:00.250+05:30",
    "2026-05-12T07:00+05:30:15",
    "2026-05-12T24:00:00Z",
    "12.05.2026 7:00:00",
    "5/12/2026 11:59:58 PM",
    "5/12/2026, 7:00:00",
    "07:00:00",
    "1778569200",
    "1778569200000",
    "2026-05-12"
  };
  private static final String SIGNS = "0123456789:.-+TZ ,";

  private static void same(CellTime used, String text) {
    CellTime alone = new CellTime();
    alone.read(text);
    used.read(text);
    assertThat(used.dayFirstMs()).as(text).isEqualTo(alone.dayFirstMs());
    assertThat(used.monthFirstMs()).as(text).isEqualTo(alone.monthFirstMs());
    assertThat(used.readable()).as(text).isEqualTo(alone.readable());
    if (alone.readable()) assertThat(used.zoned()).as(text).isEqualTo(alone.zoned());
  }

  @Test
  void aTimeIsTheSameWhateverStoodInTheRowsBefore() {
    Random random = new Random(20261127);
    CellTime used = new CellTime();
    for (String form : FORMS) {
      for (int i = 0; i < 2_000; i++) {
        StringBuilder text = new StringBuilder(form);
        same(used, form);
        for (int changes = random.nextInt(3); changes >= 0; changes--)
          text.setCharAt(random.nextInt(text.length()), SIGNS.charAt(random.nextInt(18)));
        same(used, text.toString());
      }
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"2026-05-12T07:00:%02dZ", "2026-05-12T07:00:%02d.250+05:30"})
  void theSecondsOfAMinuteAreThoseOfTheCalendar(String form) {
    CellTime used = new CellTime();
    OffsetDateTime start = OffsetDateTime.parse(form.formatted(0));
    for (int second : new int[] {0, 1, 59, 30, 58, 2}) {
      used.read(form.formatted(second));
      assertThat(used.dayFirstMs())
          .isEqualTo(start.plus(Duration.ofSeconds(second)).toInstant().toEpochMilli());
    }
  }
}
