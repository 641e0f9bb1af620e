package milewarden.app;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.app.config.Config;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.store.keep.StoreCopy;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code restore FILE}: see its description. */
@Command(
    name = "restore",
    mixinStandardHelpOptions = true,
    description = {
      "Puts a backup into an empty data folder.",
      "A folder that holds anything is refused."
    })
final class RestoreCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Parameters(paramLabel = "FILE", description = "The backup.")
  private Path file = Path.of("");

  @Override
  public Integer call() {
    PrintWriter err = spec.commandLine().getErr();
    Optional<Config> config = ServeCommand.config(places, err);
    if (config.isEmpty()) return Exit.WRONG_USE;
    Optional<String> refused =
        StoreCopy.putBack(file.toAbsolutePath(), config.get().store(), InstantSource.system());
    if (refused.isPresent()) {
      err.println("milewarden: " + refused.get());
      return Exit.WRONG_USE;
    }
    spec.commandLine().getOut().println(done(config.get().data()));
    return Exit.DONE;
  }

  private static String done(Path data) {
    Path settings = data.resolve("config").resolve("milewarden.yaml");
    String named = Files.exists(settings) ? " --config " + settings : "";
    return "Restored into "
        + data
        + ", its courses and configuration too. Start it with\n  milewarden serve --data "
        + data
        + named
        + " --courses "
        + data.resolve("courses");
  }
}
