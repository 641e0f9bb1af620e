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
import java.util.function.Function;
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
    return tried(places, "This policy", dry -> dry.policy(policy));
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
    return tried(places, "This version of " + course.slug(), dry -> dry.course(course));
  }

  @Command(
      name = "engine",
      mixinStandardHelpOptions = true,
      description = "What this program's engine changes against the judgements as stored.")
  int engine(@Mixin Places places) {
    return tried(places, "This engine", DryRun::engine);
  }

  private int tried(Places places, String what, Function<DryRun, Forecast> dry) {
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
                  new TrialMeasuring(database, c.inbox(), c.zone())::measure));
      print(
          DryRunPage.of(
              what,
              found.moves(),
              found.models(),
              found.runs(),
              found.lost(),
              found.messages(),
              List.of(),
              App.digits(c)));
      return found.none() ? Exit.DONE : Exit.FINDINGS;
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
