package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import milewarden.cli.Job;
import milewarden.cli.Places;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

final class ServingTest {
  private static Optional<Job> plain(String line) {
    return Serving.plain(List.of(line.split(" ")));
  }

  /** Every option but help is read without the library, and none that the library doesn't know. */
  @Test
  void aPlainLineGivesThePlacesThatItNames() {
    String line = "serve --data d --config c.yaml --courses k --port 0";
    Places places = ((Serving) plain(line).orElseThrow()).places();
    assertThat(places.data()).isEqualTo(Path.of("d"));
    assertThat(places.config()).contains(Path.of("c.yaml"));
    assertThat(places.courses()).contains(Path.of("k"));
    assertThat(places.port()).hasValue(0);
    Set<String> known =
        new CommandLine(new ServeCommand())
            .getCommandSpec().options().stream()
                .map(OptionSpec::longestName)
                .collect(Collectors.toSet());
    assertThat(known)
        .containsExactlyInAnyOrder(
            "--data", "--config", "--courses", "--port", "--help", "--version");
  }

  @Test
  void withoutOptionsThePlacesAreTheUsual() {
    Places places = ((Serving) plain("serve").orElseThrow()).places();
    assertThat(places.data()).isEqualTo(Path.of("data"));
    assertThat(places.config()).isEmpty();
    assertThat(places.courses()).isEmpty();
    assertThat(places.port()).isEmpty();
  }

  @Test
  void whatIsDoubtfulIsLeftToTheLibrary() {
    for (String line :
        List.of(
            "serve --help",
            "serve --port=0",
            "serve --port high",
            "serve --port -1",
            "serve --port 1000000",
            "serve here",
            "serve --data",
            "serve --dat d")) assertThat(plain(line)).as(line).isEmpty();
  }
}
