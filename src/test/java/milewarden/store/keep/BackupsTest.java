package milewarden.store.keep;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.recipient.DailyTime;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.TestStores;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.Parameter;
import org.junit.jupiter.params.ParameterizedClass;
import org.junit.jupiter.params.provider.EnumSource;

@ParameterizedClass
@EnumSource(TestStores.class)
final class BackupsTest {
  // It doesn't exist on 2026-03-29 and comes twice on 2026-10-25.
  private static final DailyTime HALF_PAST_TWO =
      new DailyTime(LocalTime.of(2, 30), ZoneId.of("Europe/Vienna"));

  @Parameter TestStores stores;
  @TempDir Path folder;
  private StoreSettings lab;
  private Instant now = Instant.parse("2026-03-27T12:00:00Z");

  @BeforeEach
  void settle() {
    lab = stores.fresh(folder.resolve("lab"));
  }

  private Backups backups(Path into, int keep) {
    return new Backups(
        lab,
        new Backups.Settings(
            into,
            HALF_PAST_TWO,
            keep,
            new StoreCopy.Beside(folder.resolve("courses"), Optional.empty())));
  }

  private static List<String> names(Path folder) throws Exception {
    try (Stream<Path> all = Files.list(folder)) {
      return all.map(f -> f.getFileName().toString()).sorted().toList();
    }
  }

  @Test
  void aCopyADayTheNewestKeptOnChangeDaysAfterASleepAndWithAClockSetBack() throws Exception {
    Path into = folder.resolve("copies");
    try (Database database = Database.open(lab, () -> now)) {
      Backups backups = backups(into, 3);
      for (;
          now.isBefore(Instant.parse("2026-03-30T12:00:00Z"));
          now = now.plus(Duration.ofMinutes(30))) backups.make(now);
      assertThat(names(into))
          .containsExactly(
              "milewarden-2026-03-28.zip",
              "milewarden-2026-03-29.zip",
              "milewarden-2026-03-30.zip");
      Path newest = into.resolve("milewarden-2026-03-30.zip");
      Object made = Files.getLastModifiedTime(newest);
      backups.make(Instant.parse("2026-03-30T00:31:00Z"));
      assertThat(Files.getLastModifiedTime(newest)).isEqualTo(made);
      Files.writeString(into.resolve("mine.db"), "somebody's own file");
      backups.make(Instant.parse("2026-04-09T12:00:00Z"));
      assertThat(names(into))
          .contains("mine.db", "milewarden-2026-03-29.zip", "milewarden-2026-04-09.zip")
          .doesNotContain("milewarden-2026-03-28.zip");
      assertThat(backups.trouble()).isEmpty();
    }
    StoreSettings other = stores.fresh(folder.resolve("other"));
    assertThat(StoreCopy.putBack(into.resolve("milewarden-2026-04-09.zip"), other, () -> now))
        .isEmpty();
  }

  @Test
  void aFolderThatCanNotBeMadeIsTold() throws Exception {
    Path file = Files.writeString(folder.resolve("a-file"), "");
    try (Database database = Database.open(lab, () -> now)) {
      Backups backups = backups(file, 3);
      backups.make(now);
      assertThat(backups.trouble().orElse("")).contains("backup was not made", "a-file");
    }
  }
}
