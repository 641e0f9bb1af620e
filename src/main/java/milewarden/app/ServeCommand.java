package milewarden.app;

import java.io.PrintWriter;
import java.time.InstantSource;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.app.config.Config;
import milewarden.app.config.ConfigReader;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.web.WebSettings;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code serve}: takes files in, judges, tells and shows until it is stopped. */
@Command(
    name = "serve",
    mixinStandardHelpOptions = true,
    description = "Starts the server on a data folder.")
final class ServeCommand implements Callable<Integer> {
  private static final Logger LOG = LoggerFactory.getLogger(ServeCommand.class);

  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Option(
      names = "--port",
      paramLabel = "N",
      description = "the dashboard's port on this machine; 0 takes a free one (default: 8080)")
  private Optional<Integer> port = Optional.empty();

  @Override
  public Integer call() throws InterruptedException {
    PrintWriter err = spec.commandLine().getErr();
    Optional<Config> config = config(places.withPort(port), err);
    if (config.isEmpty()) return Exit.WRONG_USE;
    try (App app = new App(config.get(), InstantSource.system()).start()) {
      welcome(config.get(), app.port());
      LOG.info(
          "serves {} at port {} of {}, store {}",
          config.get().data().toAbsolutePath().normalize(),
          app.port(),
          config.get().address(),
          config.get().store().where());
      Stopping.await(app);
    }
    return Exit.DONE;
  }

  static Optional<String> variable(String name) {
    return Optional.ofNullable(System.getenv(name));
  }

  /** The configuration, or its mistakes on standard error. */
  static Optional<Config> config(Places places, PrintWriter err) {
    return ConfigReader.read(places, ServeCommand::variable)
        .fold(
            usable -> Optional.of(usable.config()),
            refused -> {
              refused.why().forEach(w -> err.println("milewarden: " + w));
              return Optional.empty();
            });
  }

  private void welcome(Config config, int at) {
    PrintWriter out = spec.commandLine().getOut();
    WebSettings web = new WebSettings(config.address(), config.port(), config.publicUrl());
    out.println("Dashboard:   " + web.here(at));
    config.publicUrl().ifPresent(url -> out.println("For readers: " + url));
    out.println("Drop files:  " + config.data().resolve("inbox").toAbsolutePath().normalize());
    out.println("Courses:     " + config.courses().toAbsolutePath().normalize());
    out.println("Stop with Ctrl-C.");
    out.flush();
  }
}
