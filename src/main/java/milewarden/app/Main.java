package milewarden.app;

import java.io.OutputStreamWriter;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.List;
import milewarden.cli.Milewarden;

/** The program's entry. */
public final class Main {
  private Main() {}

  public static void main(String[] args) {
    int code = Milewarden.run(commands(), utf8(System.out), utf8(System.err), args);
    System.exit(code);
  }

  /** The commands that need the whole program. */
  private static List<Object> commands() {
    return List.of(new ServeCommand());
  }

  private static PrintWriter utf8(PrintStream stream) {
    return new PrintWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8), true);
  }
}
