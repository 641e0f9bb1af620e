package milewarden.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import milewarden.review.Publication;
import milewarden.review.Publishing;
import milewarden.store.FolderLock;
import milewarden.store.Models;
import milewarden.verdict.PublishedVerdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Verdicts: so far, publishing them. */
@Command(
    name = "verdict",
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    description = "Publishes verdicts.")
public final class VerdictCommand implements Runnable {
  private final Workshop workshop;
  @Spec private CommandSpec spec = CommandSpec.create();

  public VerdictCommand(Workshop workshop) {
    this.workshop = workshop;
  }

  @Override
  public void run() {
    throw new ParameterException(spec.commandLine(), "name a command");
  }

  @Command(
      name = "publish",
      mixinStandardHelpOptions = true,
      description = "Publishes the verdict on a release on today's figures.")
  int publish(
      @Mixin Places places,
      @Option(names = "--model", required = true, paramLabel = "M") String model,
      @Option(names = "--firmware", required = true, paramLabel = "F") String firmware,
      @Option(
              names = "--words",
              required = true,
              paramLabel = "FILE",
              description = "what you say, in a text file")
          Path words,
      @Option(
              names = "--reason",
              paramLabel = "R",
              description =
                  "why the standing verdict is replaced: new-firmware, new-evidence,"
                      + " reference-revised, method-revised, error-corrected")
          Optional<String> reason,
      @Option(
              names = "--by",
              paramLabel = "NAME",
              defaultValue = "tester",
              description = "who publishes (default: tester)")
          String by) {
    try (FolderLock lock = FolderLock.take(places.data());
        Tools tools = workshop.open(places)) {
      Publishing publishing =
          new Publishing(tools.database(), tools.policy(), tools.zone(), () -> {});
      Models.Model known =
          tools
              .database()
              .<Optional<Models.Model>>read(tx -> Models.find(tx, model))
              .orElseThrow(() -> wrong("there is no model named " + model));
      Publication done =
          publishing.publish(known.id(), firmware, text(words), reason.map(this::reason), by);
      return done.fold(
          d -> said("Published: verdict " + d.number() + " on " + model + " " + firmware + "."),
          r -> refused(r.sentence()));
    }
  }

  private int said(String sentence) {
    spec.commandLine().getOut().println(sentence);
    return Exit.DONE;
  }

  private int refused(String sentence) {
    spec.commandLine().getErr().println("milewarden: " + sentence);
    return Exit.FINDINGS;
  }

  private PublishedVerdict.Reason reason(String code) {
    String wanted = code.strip().toUpperCase(Locale.ROOT).replace('-', '_');
    for (PublishedVerdict.Reason each : PublishedVerdict.Reason.values())
      if (each.name().equals(wanted)) return each;
    throw wrong("no reason is named " + code + "; see verdict publish --help");
  }

  private static String text(Path file) {
    try {
      return Files.readString(file).strip();
    } catch (IOException e) {
      throw new UncheckedIOException("the words in " + file + " can't be read", e);
    }
  }

  private ParameterException wrong(String words) {
    return new ParameterException(spec.commandLine(), words);
  }
}
