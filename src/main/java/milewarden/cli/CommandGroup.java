package milewarden.cli;

import java.util.ArrayList;
import java.util.List;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** A command that only holds others: by itself it asks for one of them. */
public abstract class CommandGroup implements Runnable {
  @Spec protected CommandSpec spec = CommandSpec.create();

  @Override
  public final void run() {
    throw new ParameterException(spec.commandLine(), "name a command" + named());
  }

  /** The program's own commands are too many for a line. */
  private String named() {
    List<String> names = new ArrayList<>(spec.subcommands().keySet());
    if (spec.parent() == null || names.isEmpty()) return "";
    String last = names.remove(names.size() - 1);
    return ": " + (names.isEmpty() ? last : String.join(", ", names) + " or " + last);
  }
}
