package milewarden.app;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.app.config.Config;
import milewarden.simulator.campaign.Campaign;
import milewarden.web.page.DemoRoutes;
import org.jspecify.annotations.Nullable;

/** The demo's campaign, played once for all tests of a run, at a time that stands still. */
final class PlayedDemo {
  static final InstantSource CLOCK = InstantSource.fixed(Instant.parse("2026-11-25T09:00:00Z"));

  private static @Nullable PlayedDemo played;

  final Config config;
  final DemoRecord record;

  private PlayedDemo(Path folder) {
    config = DemoCommand.config(folder.resolve("demo"), Optional.of(0));
    record = DemoCommand.prepare(config, CLOCK, new PrintWriter(new StringWriter()));
  }

  static synchronized PlayedDemo once() {
    PlayedDemo there = played;
    if (there != null) return there;
    try {
      // While working on pages: the folder of a demo that was played before.
      String before = System.getProperty("milewarden.played");
      if (before != null) return played = new PlayedDemo(Path.of(before));
      // Under target, which a clean build removes: the tests that share it end at no common point.
      Path folder = Files.createTempDirectory(Files.createDirectories(Path.of("target")), "played");
      PlayedDemo fresh = new PlayedDemo(folder.toAbsolutePath());
      played = fresh;
      return fresh;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  DemoTable table() {
    return new DemoTable(Campaign.invented(record.day(), record.seed()), record);
  }

  /** The demo's settings, but that anybody may read what was published. */
  Config publicly() {
    Config c = config;
    return new Config(
        c.data(),
        c.courses(),
        c.address(),
        c.port(),
        c.door(),
        c.zone(),
        c.units(),
        c.locale(),
        c.publicUrl(),
        true,
        c.store(),
        c.inbox(),
        c.mail(),
        c.hook(),
        c.backups(),
        c.policy());
  }

  /** A copy for a test that changes what it finds; to be closed. */
  App serveACopy(Path folder) throws IOException {
    Path copy = folder.resolve("demo");
    try (Stream<Path> all = Files.walk(config.data())) {
      for (Path each : all.toList()) {
        Path there = copy.resolve(config.data().relativize(each).toString());
        if (Files.isDirectory(each)) Files.createDirectories(there);
        else Files.copy(each, there);
      }
    }
    return serve(DemoCommand.config(copy, Optional.of(0)));
  }

  /** The demo being served; to be closed. */
  App serve(Config with) {
    DemoTable table = table();
    return new App(
            with,
            CLOCK,
            (renderer, database, reading) ->
                List.of(
                    new DemoRoutes(
                        renderer, () -> DemoCommand.page(table, database, reading.digits()))))
        .start();
  }
}
