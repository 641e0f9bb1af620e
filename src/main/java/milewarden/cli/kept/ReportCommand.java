package milewarden.cli.kept;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.report.paper.FirmwareReport;
import milewarden.report.paper.ReportHtml;
import milewarden.review.CapsuleFile;
import milewarden.review.ModelNamed;
import milewarden.review.Reporting;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Models;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** The report on one release: as its newest verdict was published, else of today's figures. */
@Command(
    name = "report",
    mixinStandardHelpOptions = true,
    description =
        "Writes the report on a release, one self-contained HTML file; also beside a server.")
public final class ReportCommand implements Callable<Integer> {
  private final Workshop workshop;
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Parameters(index = "0", paramLabel = "MODEL", description = "the model's name, or its beginning")
  private String model = "";

  @Parameters(index = "1", paramLabel = "FIRMWARE", description = "the release")
  private String firmware = "";

  @Option(
      names = {"-o", "--out"},
      required = true,
      paramLabel = "FILE",
      description =
          "where to: HTML, or JSON where its name ends in .json; a published verdict's capsule is"
              + " written beside it as capsule.zip")
  private Path file = Path.of("report.html");

  public ReportCommand(Workshop workshop) {
    this.workshop = workshop;
  }

  @Override
  public Integer call() throws IOException {
    Path folder = file.toAbsolutePath().getParent();
    if (folder == null || !Files.isDirectory(folder))
      throw wrong("there is no folder for " + file + "; make it first");
    try (Tools tools = workshop.open(places)) {
      ModelNamed named = tools.database().read(tx -> ModelNamed.beginning(tx, model));
      Models.Model known = named.model().orElseThrow(() -> wrong(named.sentence()));
      Made made =
          tools
              .database()
              .<Optional<Made>>read(tx -> made(tx, known, tools))
              .orElseThrow(
                  () ->
                      wrong(
                          "no release "
                              + firmware
                              + " of "
                              + known.name()
                              + " was judged yet; "
                              + tools.database().<String>read(tx -> releases(tx, known))));
      boolean json = file.toString().endsWith(".json");
      Files.writeString(file, json ? Reporting.json(made.report()) : ReportHtml.of(made.report()));
      said("Written: " + file + ". " + made.report().standing());
      if (made.report().capsule().isPresent()) capsule(tools, folder, made.verdict().orElseThrow());
    }
    return Exit.DONE;
  }

  private static String releases(milewarden.store.Tx tx, Models.Model model) {
    List<String> versions =
        Judgements.find(tx, model.id()).stream()
            .flatMap(j -> j.releases().stream())
            .map(r -> r.release().version())
            .toList();
    return versions.isEmpty() ? "none was" : "these were: " + String.join(", ", versions);
  }

  private record Made(FirmwareReport report, Optional<Verdicts.OnRecord> verdict) {}

  private Optional<Made> made(milewarden.store.Tx tx, Models.Model m, Tools tools) {
    Optional<Verdicts.OnRecord> verdict = Reporting.newest(tx, m.id(), firmware);
    Optional<FirmwareReport> report =
        verdict.isPresent()
            ? Reporting.of(tx, verdict.get(), tools.policy(), true, tools.digits())
            : Reporting.today(tx, m.id(), firmware, tools.policy(), tools.digits());
    return report.map(r -> new Made(r, verdict));
  }

  private void capsule(Tools tools, Path folder, Verdicts.OnRecord verdict) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    if (!tools.database().read(tx -> CapsuleFile.write(tx, verdict.id(), bytes))) return;
    Path at = folder.resolve(Reporting.CAPSULE);
    Files.write(at, bytes.toByteArray());
    said("Beside it, its capsule: " + at);
  }

  private void said(String sentence) {
    spec.commandLine().getOut().println(sentence.replace('\u00a0', ' '));
  }

  private ParameterException wrong(String words) {
    return new ParameterException(spec.commandLine(), words);
  }
}
