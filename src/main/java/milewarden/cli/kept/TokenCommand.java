package milewarden.cli.kept;

import java.io.PrintWriter;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import milewarden.cli.CommandGroup;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.people.PersonName;
import milewarden.people.RandomSecret;
import milewarden.people.Role;
import milewarden.people.Scope;
import milewarden.store.people.ApiTokens;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;

/** Tokens by which programs come in. */
@Command(
    name = "token",
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    description = "Makes and revokes tokens for programs.")
public final class TokenCommand extends CommandGroup {
  private static final int LONGEST_DAYS = 366;

  private final Workshop workshop;

  public TokenCommand(Workshop workshop) {
    this.workshop = workshop;
  }

  @Command(
      name = "make",
      mixinStandardHelpOptions = true,
      description = "Makes a token and prints it, this once.")
  int make(
      @Mixin Places places,
      @Parameters(paramLabel = "NAME", description = "what it is for") String name,
      @Option(
              names = "--role",
              paramLabel = "ROLE",
              description =
                  "it may no more than this: reader, tester or keeper (default: the least that its"
                      + " scopes take)")
          Optional<String> role,
      @Option(
              names = "--scope",
              paramLabel = "SCOPE",
              split = ",",
              description =
                  "it opens only this: read, alerts, alerts:write, tracks:write, metrics; several"
                      + " parted by commas (default: all that its role may)")
          @Nullable List<String> scope,
      @Option(
              names = "--days",
              paramLabel = "N",
              defaultValue = "90",
              description = "it is good for so long (default: 90)")
          int days) {
    Set<Scope> scopes = scopes(scope);
    Role as = role.map(this::role).orElse(Scope.least(scopes));
    Scope.refusal(scopes, as)
        .ifPresent(
            why -> {
              throw wrong(why);
            });
    PersonName.refusal(name)
        .ifPresent(
            why -> {
              throw wrong(why);
            });
    if (days < 1 || days > LONGEST_DAYS) throw wrong("--days takes 1 to " + LONGEST_DAYS);
    String secret = RandomSecret.makeToken();
    try (Tools tools = workshop.open(places)) {
      tools
          .database()
          .change(
              tx ->
                  ApiTokens.add(
                      tx,
                      PersonName.of(name),
                      secret,
                      as,
                      scopes,
                      Optional.empty(),
                      tx.now().plus(Duration.ofDays(days))));
    }
    // The token alone: a script takes it as it is.
    spec.commandLine().getOut().println(secret);
    return Exit.DONE;
  }

  @Command(name = "list", mixinStandardHelpOptions = true, description = "All tokens.")
  int list(@Mixin Places places) {
    PrintWriter out = spec.commandLine().getOut();
    try (Tools tools = workshop.open(places)) {
      Instant now = tools.now();
      for (ApiTokens.Token t : tools.database().read(tx -> ApiTokens.all(tx)))
        out.println(
            t.id().value()
                + "  "
                + t.role().code()
                + "  "
                + Scope.written(t.scopes())
                + "  "
                + (t.holds(now) ? "until " + t.expiresAt() : "over")
                + "  "
                + t.name());
    }
    return Exit.DONE;
  }

  @Command(name = "revoke", mixinStandardHelpOptions = true, description = "Ends a token.")
  int revoke(
      @Mixin Places places,
      @Parameters(paramLabel = "NUMBER", description = "as `token list` says") long number) {
    try (Tools tools = workshop.open(places)) {
      ApiTokens.Token token =
          tools.database().read(tx -> ApiTokens.all(tx)).stream()
              .filter(t -> t.id().value() == number)
              .findFirst()
              .orElseThrow(() -> wrong("there is no token " + number));
      boolean done = tools.database().write(tx -> ApiTokens.revoke(tx, token));
      spec.commandLine()
          .getOut()
          .println(token.name() + (done ? " is revoked." : " was over already."));
      return Exit.DONE;
    }
  }

  private Role role(String code) {
    return Role.of(code).orElseThrow(() -> wrong("write the role as reader, tester or keeper"));
  }

  private Set<Scope> scopes(@Nullable List<String> codes) {
    if (codes == null) return Set.of(Scope.ALL);
    return Scope.of(codes)
        .orElseThrow(
            () ->
                wrong("write a scope as read, alerts, alerts:write, tracks:write, metrics or all"));
  }

  private ParameterException wrong(String words) {
    return new ParameterException(spec.commandLine(), words);
  }
}
