package milewarden.app;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import milewarden.app.config.Config;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.intake.drop.FolderIntake;
import milewarden.intake.drop.Trouble;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.file.Standings.Standing;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code intake FOLDER}: takes a folder in as the server would, then leaves. */
@Command(
    name = "intake",
    mixinStandardHelpOptions = true,
    description = "Takes a folder in as the server would, then leaves; the folder stays as it is.")
final class IntakeCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Parameters(paramLabel = "FOLDER", description = "tracks and field sheets, also in sub-folders")
  private Path folder = Path.of("");

  @Override
  public Integer call() {
    PrintWriter err = spec.commandLine().getErr();
    Optional<Config> config = ServeCommand.config(places, err);
    if (config.isEmpty()) return Exit.WRONG_USE;
    if (!Files.isDirectory(folder)) {
      err.println("milewarden: " + folder + " is no folder; name one that holds tracks");
      return Exit.WRONG_USE;
    }
    try (Batch batch = new Batch(config.get(), InstantSource.system())) {
      return report(batch.takeIn(folder, IntakeCommand::pause));
    }
  }

  private int report(FolderIntake.Taken taken) {
    PrintWriter out = spec.commandLine().getOut();
    Map<String, Integer> counts = new TreeMap<>();
    boolean findings = !taken.troubles().isEmpty();
    for (Received file : taken.files()) {
      findings |= file.state() == State.REFUSED || file.state() == State.WAITING;
      String state = word(Standing.of(file));
      counts.merge(state, 1, Integer::sum);
      file.reason().ifPresent(r -> out.println(state + "  " + file.path() + ": " + r.sentence()));
    }
    for (Trouble trouble : taken.troubles()) out.println("not taken  " + trouble.sentence());
    counts.forEach((state, n) -> out.println(n + " " + state));
    if (taken.files().isEmpty()) out.println("nothing to take in");
    return findings ? Exit.FINDINGS : Exit.DONE;
  }

  private static String word(Standing standing) {
    return standing == Standing.OFF_COURSE
        ? "waiting for a course"
        : standing.name().toLowerCase(Locale.ROOT);
  }

  private static void pause(Duration time) {
    try {
      Thread.sleep(time.toMillis());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
