package milewarden.app;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.app.config.Config;
import milewarden.app.config.Secrets;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.store.FolderLock;
import milewarden.store.StoreSettings;
import milewarden.store.keep.StoreCheck;
import milewarden.store.keep.StoreMove;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code move --to URL}: see its description. */
@Command(
    name = "move",
    mixinStandardHelpOptions = true,
    description = {
      "Copies the store into another, empty database: from the data folder's file to a PostgreSQL,"
          + " or back.",
      "Stop every server on it first. The source stays as it is; the copy is verified."
    })
final class MoveCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Option(
      names = "--to",
      required = true,
      paramLabel = "URL",
      description = "jdbc:postgresql://host/name, or a data folder for the file in it")
  private String to = "";

  @Option(names = "--user", paramLabel = "NAME", description = "of that PostgreSQL")
  private Optional<String> user = Optional.empty();

  @Option(
      names = "--password-file",
      paramLabel = "FILE",
      description = "holds that user's password (default: MILEWARDEN_STORE_PASSWORD)")
  private Optional<Path> passwordFile = Optional.empty();

  @Override
  public Integer call() {
    PrintWriter err = spec.commandLine().getErr();
    Optional<Config> config = ServeCommand.config(places, err);
    if (config.isEmpty()) return Exit.WRONG_USE;
    StoreSettings target = target(config.get().data());
    StoreMove.Moved moved;
    try (FolderLock lock = FolderLock.take(config.get().data())) {
      moved = StoreMove.copy(config.get().store(), target, InstantSource.system());
    }
    if (moved.refused().isPresent()) {
      err.println("milewarden: " + moved.refused().get());
      return Exit.WRONG_USE;
    }
    StoreCheck.Checked checked = StoreCheck.check(target, InstantSource.system());
    checked.findings().forEach(f -> err.println("milewarden: " + f.what()));
    spec.commandLine().getOut().println(done(moved.rows(), checked.findings().isEmpty()));
    return checked.findings().isEmpty() ? Exit.DONE : Exit.FINDINGS;
  }

  private StoreSettings target(Path data) {
    if (!to.startsWith("jdbc:")) return StoreSettings.in(Path.of(to));
    Optional<String> password =
        passwordFile
            .map(Secrets::read)
            .or(() -> ServeCommand.variable("MILEWARDEN_STORE_PASSWORD"));
    return new StoreSettings(data, Optional.of(to), user, password);
  }

  private String done(long rows, boolean good) {
    String copied = rows + " rows were copied; ";
    if (!good) return copied + "the copy does not verify: do not use it.";
    return copied
        + (to.startsWith("jdbc:")
            ? "the copy verifies. Write its address as `store.url` into the configuration and start"
                + " the server."
            : "the copy verifies. Start the server with `--data "
                + to
                + "` and without `store.url`.");
  }
}
