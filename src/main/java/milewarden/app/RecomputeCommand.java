package milewarden.app;

import java.io.PrintWriter;
import java.time.InstantSource;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.accuracy.Engine;
import milewarden.app.config.Config;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.report.DueWords;
import milewarden.store.StoreUnavailable;
import milewarden.store.judged.DueItems;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** {@code recompute}: all results with this engine version, beside the old ones. */
@Command(
    name = "recompute",
    mixinStandardHelpOptions = true,
    description = {
      "Measures every run anew that this engine version has not measured, and judges.",
      "New results stand beside the old ones. A server does the same at its start."
    })
final class RecomputeCommand implements Callable<Integer> {
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Override
  public Integer call() {
    PrintWriter err = spec.commandLine().getErr();
    Optional<Config> config = ServeCommand.config(places, err);
    if (config.isEmpty()) return Exit.WRONG_USE;
    if (!config.get().store().isThere()) {
      err.println(
          "milewarden: there is no store in "
              + config.get().data()
              + "; name the server's data folder by --data");
      return Exit.WRONG_USE;
    }
    try (Batch batch = new Batch(config.get(), InstantSource.system())) {
      return report(batch.recompute(), config.get());
    } catch (StoreUnavailable e) {
      if (e.kind() != StoreUnavailable.Cause.IN_USE) throw e;
      err.println(
          "milewarden: a server is at work on "
              + config.get().data()
              + ": it measures anew and judges anew by itself, from its start on, beside all else."
              + " Its Due page shows what moved, its Settings page the version of the method. To do"
              + " it by this command, stop the server first.");
      return Exit.FAILURE;
    }
  }

  private int report(Batch.Recomputed done, Config config) {
    PrintWriter out = spec.commandLine().getOut();
    out.println(
        done.runs() == 0
            ? "Every run has its results of engine version " + Engine.VERSION + " already."
            : "Measured anew by engine version " + Engine.VERSION + ": " + done.runs() + " runs.");
    if (done.policy()) out.println("The policy had changed: every model was judged anew.");
    if (done.pending() > 0)
      out.println(done.pending() + " runs still wait; run the command again.");
    out.println(
        "Due: " + done.open().size() + " open, " + done.openBefore() + " were open before.");
    for (DueItems.Due due : done.open())
      out.println(
          "  " + DueWords.sentence(due.item(), ReaderDigits.of(config)).replace('\u00a0', ' '));
    return done.pending() > 0 ? Exit.FINDINGS : Exit.DONE;
  }
}
