package milewarden.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.accuracy.MeasureOptions;
import milewarden.format.text.ColumnAnswers;
import milewarden.units.UnitChoice;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import picocli.CommandLine;
import picocli.CommandLine.ParseResult;

final class PlainLineTest {
  private static Optional<PlainLine> of(String line) {
    return PlainLine.of(
        List.of(line.split(" ", -1)), Set.of("--course", "--units"), Set.of("--json"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "measure a.gpx --course c",
        "measure --course c a.gpx",
        "measure --json a.gpx b.gpx --course c c.gpx --units mi",
        "measure --units km --course c:d=e a=b"
      })
  void aPlainLineIsReadAsTheLibraryReadsIt(String line) {
    PlainLine plain = of(line).orElseThrow();
    CommandLine library = new CommandLine(new MeasureCommand());
    ParseResult read = library.parseArgs(line.substring("measure ".length()).split(" "));
    assertThat(read.matchedPositional(0).stringValues())
        .containsExactlyElementsOf(plain.operands());
    for (String option : List.of("--course", "--units"))
      assertThat(Optional.ofNullable(read.matchedOption(option)).map(o -> o.stringValues().get(0)))
          .isEqualTo(plain.value(option));
    assertThat(read.hasMatchedOption("--json")).isEqualTo(plain.flags().contains("--json"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "measure a --help",
        "measure a -V",
        "measure a --course=c",
        "measure a --course",
        "measure a --course -c",
        "measure a --course --json",
        "measure a --course c --course d",
        "measure a --course c --json --json",
        "measure @words --course c",
        "measure a --course @c",
        "measure a --course c --unit km",
        "measure \"a --course c",
        "measure a -- --course c",
        "measure a  --course c",
        "measure - --course c"
      })
  void whatIsDoubtfulIsLeftToTheLibrary(String line) {
    assertThat(of(line)).isEmpty();
  }

  @Test
  void measureIsPlainOnlyWhereNothingIsWrong() {
    assertThat(Measuring.plain(List.of("measure", "a", "--course", "c", "--units", "mi")))
        .contains(
            new Measuring(
                List.of(Path.of("a")),
                Path.of("c"),
                Optional.empty(),
                MeasureOptions.NONE,
                ColumnAnswers.NONE,
                UnitChoice.of("mi").orElseThrow(),
                false));
    assertThat(Measuring.plain(List.of("measure", "a"))).isEmpty();
    assertThat(Measuring.plain(List.of("measure", "--course", "c"))).isEmpty();
    assertThat(Measuring.plain(List.of("measure", "a", "--course", "c", "--units", "ell")))
        .isEmpty();
    assertThat(Measuring.plain(List.of("measure", "a", "b", "--course", "c", "--shown", "1 km")))
        .isEmpty();
    assertThat(Measuring.plain(List.of("measure", "a", "--course", "c", "--shown", "long")))
        .isEmpty();
  }
}
