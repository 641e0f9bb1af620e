package milewarden.app;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import milewarden.alert.MailSettings;
import milewarden.app.config.Config;
import milewarden.app.config.ConfigRead;
import milewarden.app.config.ConfigReader;
import milewarden.app.config.YamlFile;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.report.Digits;
import milewarden.report.page.DemoPage;
import milewarden.simulator.campaign.Campaign;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.verdict.Policy;
import milewarden.web.page.DemoRoutes;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code demo}: plays an invented campaign into a folder of its own and serves it. */
@Command(
    name = "demo",
    mixinStandardHelpOptions = true,
    description = "Makes an invented test campaign in a data folder of its own and serves it.")
final class DemoCommand implements Callable<Integer> {
  /** Fixes every draw of the demo. */
  static final long SEED = 4;

  @Spec private CommandSpec spec = CommandSpec.create();

  @Option(
      names = "--data",
      paramLabel = "DIR",
      defaultValue = "demo-data",
      description = "the demo's own folder (default: demo-data)")
  private Path data = Path.of("demo-data");

  @Option(
      names = "--port",
      paramLabel = "N",
      description = "the dashboard's port on this machine; 0 takes a free one (default: 8080)")
  private Optional<Integer> port = Optional.empty();

  @Override
  public Integer call() throws InterruptedException {
    PrintWriter out = spec.commandLine().getOut();
    InstantSource clock = InstantSource.system();
    Config config = config(data, port);
    DemoRecord record = prepare(config, clock, out);
    Campaign campaign = Campaign.invented(record.day(), record.seed());
    DemoTable table = new DemoTable(campaign, record);
    try (App app =
        new App(
                config,
                clock,
                (renderer, database, reading) -> {
                  DemoTable.print(page(table, database, reading.digits()), out);
                  return List.of(
                      new DemoRoutes(renderer, () -> page(table, database, reading.digits())));
                })
            .start()) {
      welcome(config, app.port(), out);
      Stopping.await(app);
    }
    return Exit.DONE;
  }

  /**
   * The folder's campaign: played now into an empty folder, found in one that was played before.
   */
  static DemoRecord prepare(Config config, InstantSource clock, PrintWriter out) {
    Optional<DemoRecord> there = DemoRecord.read(config.data());
    if (there.isPresent()) return there.get();
    if (!isEmpty(config.data()))
      throw new IllegalStateException(
          config.data()
              + " holds no finished demo; name another folder with --data, or remove this one");
    out.println("Making the invented campaign in " + config.data() + " ...");
    out.flush();
    LocalDate today = LocalDate.ofInstant(clock.instant(), ZoneOffset.UTC);
    return DemoCampaign.play(config, Campaign.invented(today, SEED), SEED);
  }

  private static boolean isEmpty(Path folder) {
    if (!Files.exists(folder)) return true;
    try (Stream<Path> inside = Files.list(folder)) {
      return inside.findAny().isEmpty();
    } catch (IOException e) {
      throw new UncheckedIOException("can't look into " + folder, e);
    }
  }

  static DemoPage page(DemoTable table, Database database, Digits digits) {
    return DemoPage.of(table.releases(database), digits);
  }

  /** The usual settings in the demo's folder; its mail goes nowhere but to files. */
  static Config config(Path data, Optional<Integer> port) {
    Config usual =
        ConfigReader.read(
                YamlFile.empty(""), data, Places.of(data).withPort(port), name -> Optional.empty())
            .fold(
                ConfigRead.Usable::config,
                refused -> {
                  throw new IllegalStateException(String.join("; ", refused.why()));
                });
    MailSettings files =
        new MailSettings(
            Optional.empty(),
            usual.mail().from(),
            List.of(),
            usual.mail().firstRetry(),
            usual.mail().longestRetry());
    return new Config(
        data,
        data.resolve("courses"),
        usual.address(),
        usual.port(),
        usual.door(),
        // The invented tester's clock: the same dates on every machine.
        ZoneOffset.UTC,
        usual.units(),
        usual.locale(),
        Optional.empty(),
        false,
        StoreSettings.in(data),
        usual.inbox(),
        files,
        Optional.empty(),
        Optional.empty(),
        // What the table expects was worked out under these rules.
        Policy.defaults());
  }

  private static void welcome(Config config, int at, PrintWriter out) {
    out.println("What was put in and what was found:  http://127.0.0.1:" + at + "/demo");
    out.println("Dashboard:  http://127.0.0.1:" + at + "/");
    out.println("E-mails:    " + config.data().resolve("outbox").toAbsolutePath().normalize());
    out.println("Stop with Ctrl-C.");
    out.flush();
  }
}
