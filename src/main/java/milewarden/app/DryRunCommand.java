package milewarden.app;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;
import milewarden.app.config.Config;
import milewarden.app.config.PolicyReader;
import milewarden.app.config.YamlFile;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.intake.TrialMeasuring;
import milewarden.report.CourseWords;
import milewarden.report.trial.DryRunPage;
import milewarden.review.DryRun;
import milewarden.review.Forecast;
import milewarden.store.Database;
import milewarden.verdict.Policy;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code dry-run}: what a change would move over the whole history, before anything is written. */
@Command(
    name = "dry-run",
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    description = {
      "Tries a policy, a course or this engine on the whole history and writes nothing.",
      "May be run beside a server. Exit code 1 where something would change."
    })
final class DryRunCommand implements Runnable {
  @Spec private CommandSpec spec = CommandSpec.create();

  @Override
  public void run() {
    throw new ParameterException(spec.commandLine(), "name what to try");
  }

  @Command(
      name = "policy",
      mixinStandardHelpOptions = true,
      description = "What the policy of a file would change.")
  int policy(@Mixin Places places, @Parameters(paramLabel = "FILE") Path file) {
    Policy policy = read(file);
    return tried(places, "This policy", (dry, progress) -> dry.policy(policy, progress));
  }

  @Command(
      name = "course",
      mixinStandardHelpOptions = true,
      description = "What a course file would change, if it came into force now.")
  int course(@Mixin Places places, @Parameters(paramLabel = "FILE") Path file) {
    ReferenceCourse course =
        CourseFile.read(bytes(file))
            .fold(
                good -> good.course(),
                bad -> {
                  throw wrong(
                      file + " can't be used: " + CourseWords.of(bad.issues().get(0)).sentence());
                });
    return tried(
        places,
        "This version of " + course.slug(),
        (dry, progress) -> dry.course(course, progress));
  }

  @Command(
      name = "engine",
      mixinStandardHelpOptions = true,
      description = "What this program's engine changes against the judgements as stored.")
  int engine(@Mixin Places places) {
    return tried(places, "This engine", DryRun::engine);
  }

  private int tried(Places places, String what, BiFunction<DryRun, DryRun.Progress, Forecast> dry) {
    Optional<Config> config = ServeCommand.config(places, spec.commandLine().getErr());
    if (config.isEmpty()) return Exit.WRONG_USE;
    Config c = config.get();
    if (!c.store().isThere())
      throw wrong("there is no store in " + c.data() + "; name the data folder by --data");
    try (Database database = Database.open(c.store(), InstantSource.system())) {
      Forecast found =
          dry.apply(
              new DryRun(
                  database,
                  c.policy(),
                  c.zone(),
                  new TrialMeasuring(database, c.inbox(), c.zone())::measure),
              new Told(spec.commandLine().getErr()));
      print(
          DryRunPage.of(
              what,
              found.moves(),
              found.models(),
              found.runs(),
              found.lost(),
              found.messages(),
              List.of(),
              ReaderDigits.of(c)));
      return found.none() ? Exit.DONE : Exit.FINDINGS;
    }
  }

  /** Says on the error stream how far it is: at most once in some seconds, so seldom a word. */
  private static final class Told implements DryRun.Progress {
    private static final long EVERY_NS = 3_000_000_000L;
    private final PrintWriter err;
    private long last = System.nanoTime();

    Told(PrintWriter err) {
      this.err = err;
    }

    @Override
    public void at(DryRun.Step step, int done, int of) {
      if (System.nanoTime() - last < EVERY_NS) return;
      last = System.nanoTime();
      err.println(
          switch (step) {
            case MEASURING_RUNS -> "measured anew: " + done + " of " + of + " runs";
            case JUDGING_MODELS -> "judged: " + done + " of " + of + " models";
          });
      err.flush();
    }
  }

  private void print(DryRunPage page) {
    PrintWriter out = spec.commandLine().getOut();
    out.println(plain(page.sentence()));
    out.println(plain(page.quiet()));
    for (DryRunPage.ModelMoves model : page.models()) {
      out.println();
      out.println(model.model());
      model.sentences().forEach(s -> out.println("  " + plain(s)));
    }
    page.lost().forEach(run -> out.println("Could not be measured any more: " + run));
  }

  private static String plain(String words) {
    return words.replace('\u00a0', ' ');
  }

  private Policy read(Path file) {
    if (!Files.isRegularFile(file)) throw wrong("there is no file " + file);
    List<String> problems = new ArrayList<>();
    Policy policy = PolicyReader.read(YamlFile.read(file), problems);
    if (!problems.isEmpty()) throw wrong(problems.get(0));
    return policy;
  }

  private static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new UncheckedIOException("the course file " + file + " can't be read", e);
    }
  }

  private ParameterException wrong(String words) {
    return new ParameterException(spec.commandLine(), words);
  }
}
