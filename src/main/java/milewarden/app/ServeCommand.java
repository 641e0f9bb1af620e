package milewarden.app;

import java.io.PrintWriter;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.app.config.Config;
import milewarden.app.config.ConfigReader;
import milewarden.cli.Places;
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
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Option(
      names = "--port",
      paramLabel = "N",
      description = "the dashboard's port on this machine; 0 takes a free one (default: 8080)")
  private Optional<Integer> port = Optional.empty();

  @Override
  public Integer call() throws InterruptedException {
    return new Serving(places.withPort(port))
        .run(spec.commandLine().getOut(), spec.commandLine().getErr());
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
}
