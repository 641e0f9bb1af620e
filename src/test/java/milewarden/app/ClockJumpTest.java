package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import java.net.ServerSocket;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.concurrent.atomic.AtomicReference;
import milewarden.store.Database;
import milewarden.store.keep.StoreCheck;
import milewarden.store.run.Runs;
import milewarden.store.told.Outbox;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A clock that runs a year ahead for a while, and is set right again, loses and holds up nothing.
 */
final class ClockJumpTest {
  @TempDir Path folder;

  @Test
  void whatWasTakenInAndQueuedByAWrongClockIsMeasuredAndSentUnderTheRightOne() throws Exception {
    AtomicReference<Duration> wrong = new AtomicReference<>(Duration.ZERO);
    InstantSource clock = () -> Instant.now().plus(wrong.get());
    int port;
    try (ServerSocket free = new ServerSocket(0)) {
      port = free.getLocalPort();
    }
    String yaml =
        Household.QUICK
            + "mail: {host: 127.0.0.1, port: %d, security: none, to: [one@tests.example],"
                .formatted(port)
            + " first_retry: 1 s, longest_retry: 2 s}\n";
    Season season = new Season(folder, yaml);
    GreenMail server = new GreenMail(new ServerSetup(port, "127.0.0.1", "smtp"));
    try (App app = new App(season.config, clock).start();
        Database database = season.look()) {
      assertThat(app.port()).isPositive();
      wrong.set(Duration.ofDays(365));
      StringBuilder rows = new StringBuilder();
      for (int i = 0; i < 8; i++)
        rows.append(Household.row("B" + i, Household.day(i), "", "1.0", "0.40" + i % 2));
      season.house.dropSheet("before/session.csv", rows.toString());
      drop(season, 10, "2.0", "0.412");
      Await.until(
          "a message waits that no server took",
          () -> database.read(Runs::count),
          () ->
              database.read(tx -> Outbox.page(tx, java.util.Optional.empty(), 9)).stream()
                  .anyMatch(m -> m.attempts() > 0));
      wrong.set(Duration.ZERO);
      drop(season, 11, "2.0", "0.412");
      Await.until("the tenth run", () -> "", () -> database.read(Runs::count) == 10);
      server.start();
      Await.until(
          "every message is sent",
          () -> database.read(tx -> Outbox.page(tx, java.util.Optional.empty(), 9)),
          () -> database.read(tx -> Outbox.count(tx, Outbox.State.QUEUED)) == 0);
      Season.atRest(database);
      // Back by ten years, as a machine whose clock lost its battery.
      wrong.set(Duration.ofDays(-3650));
      drop(season, 12, "2.0", "0.411");
      Await.until("the eleventh run", () -> "", () -> database.read(Runs::count) == 11);
      Season.atRest(database);
      assertThat(season.house.files("refused")).isEmpty();
      Await.until("the inbox is empty", () -> "", () -> season.house.files("inbox").isEmpty());
    } finally {
      server.stop();
    }
    assertThat(StoreCheck.check(season.config.store(), InstantSource.system()).findings())
        .isEmpty();
  }

  private static void drop(Season season, int n, String firmware, String shownKm) throws Exception {
    season.house.drop("d" + n + "/w.gpx", Household.track(Household.day(n), n));
    season.house.dropSheet(
        "d" + n + "/session.csv",
        Household.row("S" + n, Household.day(n), "w.gpx", firmware, shownKm));
  }
}
