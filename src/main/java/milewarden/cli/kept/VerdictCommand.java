package milewarden.cli.kept;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import milewarden.cli.CommandGroup;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.report.trial.CapsuleWords;
import milewarden.review.CapsuleCheck;
import milewarden.review.CapsuleFile;
import milewarden.review.ModelNamed;
import milewarden.review.Publication;
import milewarden.review.Publishing;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Models;
import milewarden.verdict.PublishedVerdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;

/** Publishes and withdraws verdicts, writes their capsules and checks them. */
@Command(
    name = "verdict",
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    description = "Publishes and withdraws verdicts, and checks what they rest on.")
public final class VerdictCommand extends CommandGroup {
  private final Workshop workshop;

  public VerdictCommand(Workshop workshop) {
    this.workshop = workshop;
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
    // Beside a running server, too: publishing is one transaction, which sees all that was written
    // before it and is seen whole; the server's review finds the mark that it leaves.
    try (Tools tools = workshop.open(places)) {
      Publishing publishing =
          new Publishing(tools.database(), tools.policy(), tools.zone(), () -> {});
      ModelNamed named = tools.database().read(tx -> ModelNamed.whole(tx, model));
      Models.Model known = named.model().orElseThrow(() -> wrong(named.sentence()));
      Publication done =
          publishing.publish(known.id(), firmware, text(words), reason.map(this::reason), by);
      return done.fold(
          d -> said("Published: verdict " + d.number() + " on " + model + " " + firmware + "."),
          r -> refused(r.sentence()));
    }
  }

  @Command(
      name = "withdraw",
      mixinStandardHelpOptions = true,
      description = "Takes a published verdict back with your words; it stays readable.")
  int withdraw(
      @Mixin Places places,
      @Option(names = "--model", required = true, paramLabel = "M") String model,
      @Option(names = "--number", required = true, paramLabel = "N") int number,
      @Option(names = "--words", required = true, paramLabel = "FILE") Path words,
      @Option(names = "--by", paramLabel = "NAME", defaultValue = "tester") String by) {
    try (Tools tools = workshop.open(places)) {
      Verdicts.Line verdict = verdict(tools, model, number);
      return new Publishing(tools.database(), tools.policy(), tools.zone(), () -> {})
          .withdraw(verdict.id(), text(words), by)
          .fold(
              d -> said("Withdrawn: verdict " + d.number() + " on " + model + "."),
              r -> refused(r.sentence()));
    }
  }

  @Command(
      name = "capsule",
      mixinStandardHelpOptions = true,
      description = "Writes the archive from which a verdict's figures can be found again.")
  int capsule(
      @Mixin Places places,
      @Option(names = "--model", required = true, paramLabel = "M") String model,
      @Option(names = "--number", required = true, paramLabel = "N") int number,
      @Option(names = "--out", required = true, paramLabel = "FILE", description = "a zip file")
          Path file)
      throws IOException {
    try (Tools tools = workshop.open(places)) {
      Verdicts.Line verdict = verdict(tools, model, number);
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      boolean written = tools.database().read(tx -> CapsuleFile.write(tx, verdict.id(), bytes));
      if (!written)
        return refused(
            "verdict " + number + " was published before capsules were kept; publish anew for one");
      Files.write(file, bytes.toByteArray());
      return said("Written: " + file + ". Check it: milewarden verdict check " + file);
    }
  }

  @Command(
      name = "check",
      mixinStandardHelpOptions = true,
      description = "Finds every figure of a capsule again; exit code 1 where one differs.")
  int check(@Parameters(paramLabel = "CAPSULE", description = "a zip file") Path file)
      throws IOException {
    if (!Files.isRegularFile(file)) throw wrong("there is no file " + file);
    CapsuleCheck.Checked found;
    try (InputStream in = Files.newInputStream(file)) {
      found = CapsuleCheck.check(in);
    }
    found
        .verdict()
        .ifPresent(
            v ->
                said(
                    "Verdict "
                        + v.number()
                        + " on "
                        + v.model()
                        + " "
                        + v.firmware()
                        + ", published "
                        + v.publishedAt()
                        + " by engine version "
                        + v.engineVersion()
                        + "; this program's is "
                        + found.engineVersion()
                        + "."));
    if (found.fault().isPresent()) return refused(CapsuleWords.of(found.fault().get()));
    return said(
        "It recomputes to the same digits: "
            + found.files()
            + " files by their hashes, "
            + found.passes()
            + " passes from their bytes, and all figures.");
  }

  private Verdicts.Line verdict(Tools tools, String model, int number) {
    return tools
        .database()
        .<Optional<Verdicts.Line>>read(
            tx ->
                Models.find(tx, model).stream()
                    .flatMap(m -> Verdicts.lines(tx, m.id()).stream())
                    .filter(v -> v.number() == number)
                    .findFirst())
        .orElseThrow(() -> wrong("there is no verdict " + number + " on " + model));
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
