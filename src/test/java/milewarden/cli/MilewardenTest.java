package milewarden.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.Map;
import java.util.concurrent.Callable;
import org.junit.jupiter.api.Test;
import picocli.CommandLine.Command;

final class MilewardenTest {
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @Command(name = "break")
  static final class Break implements Callable<Integer> {
    @Override
    public Integer call() {
      throw new IllegalStateException("the disk is full\nand more");
    }
  }

  private int run(String... args) {
    return Milewarden.run(
        Map.of("break", () -> new Break()), new PrintWriter(out), new PrintWriter(err), args);
  }

  @Test
  void wrongUseIsOneLineOnStandardErrorAndTwo() {
    assertThat(run()).isEqualTo(Exit.WRONG_USE);
    assertThat(err.toString().lines())
        .singleElement()
        .asString()
        .contains("name a command", "--help");
  }

  @Test
  void aCommandThatHoldsOthersNamesThem() {
    assertThat(run("course")).isEqualTo(Exit.WRONG_USE);
    assertThat(err.toString()).contains("name a command: check, draft, sheet or track");
  }

  @Test
  void anUnknownCommandIsWrongUse() {
    assertThat(run("frobnicate")).isEqualTo(Exit.WRONG_USE);
    assertThat(err.toString().lines()).singleElement().asString().contains("frobnicate");
  }

  @Test
  void aFailureIsOneLineAndThree() {
    assertThat(run("break")).isEqualTo(Exit.FAILURE);
    assertThat(err.toString().strip()).isEqualTo("milewarden: break: the disk is full");
  }

  @Test
  void helpAndVersionAreDone() {
    assertThat(run("--help")).isEqualTo(Exit.DONE);
    assertThat(out.toString()).contains("Exit codes:", "break");
    assertThat(run("--version")).isEqualTo(Exit.DONE);
    assertThat(out.toString()).contains("milewarden", "method");
    assertThat(err.toString()).isEmpty();
  }
}
