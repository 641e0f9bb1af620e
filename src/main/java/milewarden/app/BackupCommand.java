package milewarden.app;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.app.config.Config;
import milewarden.app.config.ConfigReader;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.store.keep.StoreCopy;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code backup FILE}: see its description. */
@Command(
    name = "backup",
    mixinStandardHelpOptions = true,
    description = {
      "Copies the store, the courses and the configuration into one checked zip, also while a"
          + " server runs.",
      "Secrets are not in it: they stand in variables or files that the configuration names."
    })
final class BackupCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Parameters(paramLabel = "FILE", description = "The new file, a zip.")
  private Path file = Path.of("");

  @Override
  public Integer call() {
    PrintWriter err = spec.commandLine().getErr();
    Optional<Config> config = ServeCommand.config(places, err);
    if (config.isEmpty()) return Exit.WRONG_USE;
    StoreCopy.Beside beside =
        new StoreCopy.Beside(config.get().courses(), Optional.of(ConfigReader.file(places)));
    Optional<String> refused =
        StoreCopy.make(config.get().store(), beside, file.toAbsolutePath(), InstantSource.system());
    if (refused.isPresent()) {
      err.println("milewarden: " + refused.get());
      return Exit.WRONG_USE;
    }
    spec.commandLine().getOut().println("Backed up to " + file + ".");
    return Exit.DONE;
  }
}
