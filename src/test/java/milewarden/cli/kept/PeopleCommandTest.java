package milewarden.cli.kept;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import milewarden.people.Actor;
import milewarden.people.Passphrase;
import milewarden.people.Role;
import milewarden.report.Digits;
import milewarden.store.ChangeRecord;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.people.ApiTokens;
import milewarden.store.people.People;
import milewarden.units.UnitChoice;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** People and tokens by command. */
final class PeopleCommandTest {
  private static final InstantSource CLOCK =
      InstantSource.fixed(Instant.parse("2026-05-12T07:00:00Z"));
  private static final String WORDS = "meadow kettle ninety lantern";

  @TempDir Path folder;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();
  private Optional<String> variable = Optional.empty();
  private String typed = WORDS;

  private Database open() {
    return Database.open(StoreSettings.in(folder), CLOCK, Actor.COMMAND_LINE);
  }

  private int run(String... args) {
    out.getBuffer().setLength(0);
    err.getBuffer().setLength(0);
    Workshop workshop =
        places ->
            new Tools(
                open(),
                Policy.defaults(),
                ZoneOffset.UTC,
                Digits.of(UnitChoice.METRIC, ZoneOffset.UTC));
    return Milewarden.run(
        Map.of(
            "people",
            () -> new PeopleCommand(workshop, name -> variable, () -> typed),
            "token",
            () -> new TokenCommand(workshop)),
        new PrintWriter(out),
        new PrintWriter(err),
        args);
  }

  private List<People.Person> people() {
    try (Database database = open()) {
      return database.read(tx -> People.all(tx));
    }
  }

  @Test
  void theFirstIsAKeeperAndThePassphraseIsNeverAnArgument() {
    assertThat(run("people", "add", "Tom", "--role", "tester")).isEqualTo(Exit.WRONG_USE);
    assertThat(err.toString()).contains("first person is a keeper");
    assertThat(run("people", "add", "Ada", WORDS, "--role", "keeper")).isEqualTo(Exit.WRONG_USE);
    assertThat(run("people", "add", "Ada", "--role", "keeper", "--passphrase", WORDS))
        .isEqualTo(Exit.WRONG_USE);
    assertThat(people()).isEmpty();
    assertThat(run("people", "add", "Ada", "--role", "keeper")).isEqualTo(Exit.DONE);
    assertThat(out.toString()).isEqualTo("Ada can log in as keeper." + System.lineSeparator());
    assertThat(people().get(0).role()).isEqualTo(Role.KEEPER);
    assertThat(Passphrase.fits(WORDS, people().get(0).passphrase())).isTrue();
    try (Database database = open()) {
      ChangeRecord.Change change = database.read(tx -> ChangeRecord.page(tx, 1, 0)).get(0);
      assertThat(change.actor().words()).isEqualTo("command line");
      assertThat(change.words()).isEqualTo("added as keeper");
    }
  }

  @Test
  void aVariableGivesThePassphraseWhereNobodyTypes() {
    typed = "not asked for";
    variable = Optional.of(WORDS);
    assertThat(run("people", "add", "Ada", "--role", "keeper")).isEqualTo(Exit.DONE);
    variable = Optional.of("short");
    assertThat(run("people", "passphrase", "Ada")).isEqualTo(Exit.WRONG_USE);
    assertThat(err.toString()).contains("at least 15").doesNotContain("short\n");
    assertThat(Passphrase.fits(WORDS, people().get(0).passphrase())).isTrue();
  }

  @Test
  void theLastKeeperStaysWhileThereAreOthers() {
    run("people", "add", "Ada", "--role", "keeper");
    run("people", "add", "Tom", "--role", "tester");
    assertThat(run("people", "add", "ADA", "--role", "reader")).isEqualTo(Exit.WRONG_USE);
    assertThat(run("people", "remove", "Ada")).isEqualTo(Exit.WRONG_USE);
    assertThat(run("people", "role", "Ada", "reader")).isEqualTo(Exit.WRONG_USE);
    assertThat(run("people", "role", "tom", "keeper")).isEqualTo(Exit.DONE);
    assertThat(run("people", "remove", "Ada")).isEqualTo(Exit.DONE);
    assertThat(run("people", "list")).isEqualTo(Exit.DONE);
    assertThat(out.toString()).contains("keeper  Tom").doesNotContain("Ada");
    assertThat(run("people", "remove", "Nobody")).isEqualTo(Exit.WRONG_USE);
  }

  @Test
  void aTokenIsPrintedOnceAndRevokedByItsNumber() {
    assertThat(run("token", "make", "nightly", "--role", "tester", "--days", "7"))
        .isEqualTo(Exit.DONE);
    String secret = out.toString().strip();
    assertThat(secret).startsWith("mwt_");
    try (Database database = open()) {
      ApiTokens.Token token = database.read(tx -> ApiTokens.find(tx, secret)).orElseThrow();
      assertThat(token.role()).isEqualTo(Role.TESTER);
      assertThat(token.expiresAt()).isEqualTo(Instant.parse("2026-05-19T07:00:00Z"));
    }
    run("token", "list");
    assertThat(out.toString()).contains("nightly").doesNotContain(secret);
    assertThat(run("token", "revoke", "1")).isEqualTo(Exit.DONE);
    run("token", "list");
    assertThat(out.toString()).contains("over");
    assertThat(run("token", "make", "x", "--days", "9999")).isEqualTo(Exit.WRONG_USE);
    assertThat(run("token", "make", "x", "--scope", "everything")).isEqualTo(Exit.WRONG_USE);
    assertThat(run("token", "make", "x", "--scope", "tracks:write", "--role", "reader"))
        .isEqualTo(Exit.WRONG_USE);
    assertThat(run("token", "make", "up", "--scope", "tracks:write,alerts")).isEqualTo(Exit.DONE);
    run("token", "list");
    assertThat(out.toString()).contains("2  tester  alerts tracks:write  until");
    assertThat(run("token", "make", "x", "--role", "king")).isEqualTo(Exit.WRONG_USE);
  }
}
