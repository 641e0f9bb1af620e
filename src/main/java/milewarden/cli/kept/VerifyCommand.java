package milewarden.cli.kept;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.function.Function;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.store.keep.StoreCheck;
import milewarden.store.keep.StoreFinding;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code verify}: see its description. */
@Command(
    name = "verify",
    mixinStandardHelpOptions = true,
    description = {
      "Checks everything stored: every file's bytes against their SHA-256, every reference,"
          + " every record, and the database file itself.",
      "It only reads, also beside a running server; exit code 1 where something is wrong."
    })
public final class VerifyCommand implements Callable<Integer> {
  private final Function<Places, StoreCheck.Checked> check;
  @Spec private CommandSpec spec = CommandSpec.create();
  @Mixin private Places places = new Places();

  @Option(names = "--json", description = "one JSON document")
  private boolean json;

  /**
   * @param check checks the store of these places
   */
  public VerifyCommand(Function<Places, StoreCheck.Checked> check) {
    this.check = check;
  }

  /** The document of {@code --json}. */
  record Document(long files, long bytes, long references, long records, List<Finding> findings) {
    Document {
      findings = List.copyOf(findings);
    }
  }

  /** What is wrong. */
  record Finding(String kind, String what, String remedy) {}

  @Override
  public Integer call() {
    StoreCheck.Checked checked = check.apply(places);
    PrintWriter out = spec.commandLine().getOut();
    if (json) out.println(AnswerJson.of(document(checked)));
    else print(checked, out);
    return checked.findings().isEmpty() ? Exit.DONE : Exit.FINDINGS;
  }

  private static Document document(StoreCheck.Checked checked) {
    return new Document(
        checked.files(),
        checked.bytes(),
        checked.references(),
        checked.records(),
        checked.findings().stream()
            .map(f -> new Finding(f.kind().name().toLowerCase(Locale.ROOT), f.what(), f.remedy()))
            .toList());
  }

  private static void print(StoreCheck.Checked checked, PrintWriter out) {
    out.println(
        "Checked: "
            + checked.files()
            + " files against their SHA-256 ("
            + checked.bytes()
            + " bytes), "
            + checked.references()
            + " references, "
            + checked.records()
            + " records.");
    String remedy = "";
    for (StoreFinding finding : checked.findings()) {
      // What to do is said once for all that is alike.
      if (!remedy.isEmpty() && !remedy.equals(finding.remedy())) out.println("  - " + remedy);
      remedy = finding.remedy();
      out.println(finding.what());
    }
    if (remedy.isEmpty()) out.println("Everything is as it was written.");
    else out.println("  - " + remedy);
  }
}
