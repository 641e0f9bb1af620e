package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;

final class MainTest {
  private final StringWriter out = new StringWriter();

  private int run(String... args) {
    PrintWriter to = new PrintWriter(out);
    return Milewarden.run(Main.commands(), to, to, args);
  }

  @Test
  void everyCommandIsFoundByTheNameThatItSays() {
    Main.commands()
        .forEach(
            (name, command) ->
                assertThat(new CommandLine(command.get()).getCommandName()).isEqualTo(name));
  }

  @Test
  void everyCommandStandsInTheReadme() throws Exception {
    List<String> rows = Files.readAllLines(Path.of("README.md"));
    for (String name : Main.commands().keySet())
      assertThat(rows).as(name).anyMatch(row -> row.matches("\\| .*`" + name + "[ `].*\\|"));
  }

  @Test
  void everyCommandAnswersForHelpAloneAndAmongTheOthers() {
    assertThat(run("--help")).isEqualTo(Exit.DONE);
    String all = out.toString();
    for (String name : Main.commands().keySet()) {
      assertThat(all.lines()).anyMatch(line -> line.strip().startsWith(name + " "));
      out.getBuffer().setLength(0);
      assertThat(run(name, "--help")).isEqualTo(Exit.DONE);
      assertThat(out.toString()).startsWith("Usage: milewarden " + name);
    }
    out.getBuffer().setLength(0);
    assertThat(run("help", "due")).isEqualTo(Exit.DONE);
    assertThat(out.toString()).startsWith("Usage: milewarden due");
  }
}
