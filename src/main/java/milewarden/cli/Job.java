package milewarden.cli;

import java.io.PrintWriter;

/** What a command does once its line is read. */
@FunctionalInterface
public interface Job {
  /**
   * Does it.
   *
   * @return an exit code of {@link Exit}
   */
  int run(PrintWriter out, PrintWriter err) throws Exception;
}
