package milewarden.cli.kept;

import java.io.BufferedReader;
import java.io.Console;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;
import milewarden.cli.CommandGroup;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.people.Role;
import milewarden.store.people.People;
import milewarden.store.people.Staff;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;

/** Who may come in; also before the first start, and beside a running server. */
@Command(
    name = "people",
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    description = "Adds, changes and removes who may log in.")
public final class PeopleCommand extends CommandGroup {
  /** Holds the passphrase where nobody sits at a terminal. */
  public static final String VARIABLE = "MILEWARDEN_PASSPHRASE";

  private final Workshop workshop;
  private final Function<String, Optional<String>> environment;
  private final Supplier<String> typed;

  /**
   * @param workshop that makes the store where there is none
   */
  public PeopleCommand(Workshop workshop, Function<String, Optional<String>> environment) {
    this(workshop, environment, PeopleCommand::ask);
  }

  PeopleCommand(
      Workshop workshop, Function<String, Optional<String>> environment, Supplier<String> typed) {
    this.workshop = workshop;
    this.environment = environment;
    this.typed = typed;
  }

  @Command(
      name = "add",
      mixinStandardHelpOptions = true,
      description = {
        "Adds somebody. The passphrase is asked for at the terminal, else taken from the variable",
        VARIABLE + ", else read as the first line of standard input; never from the command line."
      })
  int add(
      @Mixin Places places,
      @Parameters(paramLabel = "NAME") String name,
      @Option(
              names = "--role",
              paramLabel = "ROLE",
              required = true,
              description = "reader, tester or keeper; the first is a keeper")
          String role) {
    Role as = role(role);
    String passphrase = passphrase();
    try (Tools tools = workshop.open(places)) {
      return done(
          Staff.add(tools.database(), name, as, passphrase),
          name.strip() + " can log in as " + as.code() + ".");
    }
  }

  @Command(name = "list", mixinStandardHelpOptions = true, description = "Who can log in.")
  int list(@Mixin Places places) {
    try (Tools tools = workshop.open(places)) {
      for (People.Person p : tools.database().read(tx -> People.all(tx)))
        spec.commandLine().getOut().println(p.role().code() + "  " + p.name().text());
    }
    return Exit.DONE;
  }

  @Command(name = "role", mixinStandardHelpOptions = true, description = "Gives another role.")
  int role(
      @Mixin Places places,
      @Parameters(paramLabel = "NAME") String name,
      @Parameters(paramLabel = "ROLE") String role) {
    Role as = role(role);
    try (Tools tools = workshop.open(places)) {
      return done(
          Staff.role(tools.database(), person(tools, name), as),
          name.strip() + " is " + as.code() + " now.");
    }
  }

  @Command(
      name = "passphrase",
      mixinStandardHelpOptions = true,
      description = "Sets another passphrase, given as at `add`; ends that person's visits.")
  int passphrase(@Mixin Places places, @Parameters(paramLabel = "NAME") String name) {
    try (Tools tools = workshop.open(places)) {
      People.Person person = person(tools, name);
      return done(
          Staff.passphrase(tools.database(), person, passphrase()),
          "The new passphrase holds; visits of " + name.strip() + " have ended.");
    }
  }

  @Command(
      name = "remove",
      mixinStandardHelpOptions = true,
      description = "Lets somebody in no more; their tokens are revoked.")
  int remove(@Mixin Places places, @Parameters(paramLabel = "NAME") String name) {
    try (Tools tools = workshop.open(places)) {
      return done(
          Staff.remove(tools.database(), person(tools, name)),
          name.strip() + " can log in no more.");
    }
  }

  private People.Person person(Tools tools, String name) {
    return tools
        .database()
        .<Optional<People.Person>>read(tx -> People.find(tx, name))
        .orElseThrow(
            () -> new ParameterException(spec.commandLine(), "nobody is named " + name.strip()));
  }

  private Role role(String code) {
    return Role.of(code)
        .orElseThrow(
            () ->
                new ParameterException(
                    spec.commandLine(), "write the role as reader, tester or keeper"));
  }

  private int done(Optional<String> refusal, String sentence) {
    if (refusal.isEmpty()) {
      spec.commandLine().getOut().println(sentence);
      return Exit.DONE;
    }
    spec.commandLine().getErr().println("milewarden: " + refusal.get());
    return Exit.WRONG_USE;
  }

  private String passphrase() {
    return environment.apply(VARIABLE).orElseGet(typed);
  }

  /** Typed twice and not shown at a terminal; the first line where there is none. */
  private static String ask() {
    Console console = System.console();
    if (console == null) return firstLine();
    char[] once = console.readPassword("Passphrase: ");
    char[] twice = console.readPassword("Once more:  ");
    if (once == null || twice == null || !Arrays.equals(once, twice))
      throw new IllegalArgumentException("the two differ; nothing was changed");
    return new String(once);
  }

  private static String firstLine() {
    try {
      String line =
          new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8)).readLine();
      return line == null ? "" : line;
    } catch (IOException e) {
      throw new UncheckedIOException("the passphrase can't be read", e);
    }
  }
}
