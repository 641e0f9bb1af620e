package milewarden.app.config;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.alert.MailSettings;
import milewarden.cli.Places;
import milewarden.intake.InboxSettings;
import milewarden.store.StoreSettings;
import milewarden.track.TagName;
import milewarden.units.LengthUnit;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class ConfigTest {
  private static final Path SHIPPED = Path.of("config", "milewarden.yaml");
  @TempDir Path folder;

  private ConfigRead read(String yaml, Map<String, String> environment) {
    return ConfigReader.read(
        YamlFile.parse("milewarden.yaml", yaml),
        folder.resolve("milewarden.yaml"),
        Places.of(folder.resolve("data")),
        name -> Optional.ofNullable(environment.get(name)));
  }

  private Config usable(String yaml) {
    return read(yaml, Map.of())
        .fold(
            ConfigRead.Usable::config,
            r -> {
              throw new AssertionError(r.why());
            });
  }

  private List<String> refused(String yaml) {
    return read(yaml, Map.of())
        .fold(
            u -> {
              throw new AssertionError("taken: " + u);
            },
            ConfigRead.Refused::why);
  }

  @Test
  void anEmptyFileGivesTheDefaults() {
    Config config = usable("");
    assertThat(config.port()).isEqualTo(8080);
    assertThat(config.zone()).isEqualTo(ZoneId.systemDefault());
    assertThat(config.units()).isEqualTo(LengthUnit.KILOMETRE);
    assertThat(config.inbox()).isEqualTo(InboxSettings.DEFAULTS);
    assertThat(config.courses()).isEqualTo(folder.resolve("data").resolve("courses"));
    assertThat(config.mail().server()).isEmpty();
    assertThat(config.store()).isEqualTo(StoreSettings.in(folder.resolve("data")));
    assertThat(config.publicUrl()).isEmpty();
  }

  @Test
  void theShippedFileSaysTheDefaults() throws Exception {
    assertThat(usable(Files.readString(SHIPPED))).isEqualTo(usable(""));
  }

  @Test
  void theShippedFileHoldsEveryKey() throws Exception {
    YamlFile shipped = YamlFile.parse("milewarden.yaml", Files.readString(SHIPPED));
    assertThat(ConfigReader.keys(Places.of(folder)))
        .containsExactlyInAnyOrderElementsOf(shipped.entries().keySet());
  }

  @Test
  void everyKeyIsTaken() {
    Config config =
        usable(
            """
            zone: Pacific/Auckland
            units: miles
            port: 0
            public: {url: "https://tests.example/mile/"}
            courses: {folder: ../lines}
            inbox: {poll: 100 ms, stand_still: 1s}
            sessions: {gap: 90 min}
            defaults: {unit: K1, firmware: "1.10", carriage: swing-left, gait: run, operator: Ada}
            mail: {from: a@b.example, to: [c@d.example, e@f.example], first_retry: 5 s, longest_retry: 1 d}
            """);
    assertThat(config.zone()).isEqualTo(ZoneId.of("Pacific/Auckland"));
    assertThat(config.units()).isEqualTo(LengthUnit.MILE);
    assertThat(config.port()).isZero();
    assertThat(config.publicUrl().map(Object::toString)).contains("https://tests.example/mile/");
    assertThat(config.courses().normalize())
        .isEqualTo(folder.toAbsolutePath().getParent().resolve("lines"));
    assertThat(config.inbox())
        .isEqualTo(
            new InboxSettings(
                Duration.ofMillis(100),
                Duration.ofSeconds(1),
                Duration.ofMinutes(90),
                Map.of(
                    TagName.UNIT,
                    "K1",
                    // A version is text: 1.10 is not 1.1.
                    TagName.FIRMWARE,
                    "1.10",
                    TagName.CARRIAGE,
                    "swing-left",
                    TagName.GAIT,
                    "run",
                    TagName.OPERATOR,
                    "Ada")));
    assertThat(config.mail().to()).containsExactly("c@d.example", "e@f.example");
    assertThat(config.mail().longestRetry()).isEqualTo(Duration.ofDays(1));
  }

  @Test
  void anUnknownKeyIsRefusedWithItsLineAndTheOneThatIsMeant() {
    assertThat(refused("zone: system\ninbox:\n  stand_stil: 2 s\n"))
        .containsExactly(
            "milewarden.yaml, line 3: `inbox.stand_stil` is no setting; did you mean"
                + " `inbox.stand_still`?");
  }

  @Test
  void everyWrongValueIsRefusedWithItsLineAndWhatToWrite() {
    List<String> why =
        refused(
            """
            zone: Atlantis/Centre
            units: leagues
            port: 70000
            public: {url: ftp://x/}
            inbox:
              poll: 0 s
              stand_still: soon
            defaults:
              gait: hop
            store:
              url: jdbc:other://x/
            mail:
              host: [a, b]
              from: "a@b.example\\nBcc: x@y.example"
            """);
    assertThat(why)
        .anySatisfy(w -> assertThat(w).contains("line 1: `zone`", "Europe/Vienna"))
        .anySatisfy(w -> assertThat(w).contains("line 2: `units`", "miles"))
        .anySatisfy(w -> assertThat(w).contains("line 3: `port`", "65535"))
        .anySatisfy(w -> assertThat(w).contains("line 4: `public.url`"))
        .anySatisfy(w -> assertThat(w).contains("line 6: `inbox.poll`", "500 ms"))
        .anySatisfy(w -> assertThat(w).contains("line 7: `inbox.stand_still`", "soon"))
        .anySatisfy(w -> assertThat(w).contains("line 9: `defaults.gait`", "walk, run, ride"))
        .anySatisfy(w -> assertThat(w).contains("line 11: `store.url`", "jdbc:postgresql"))
        .anySatisfy(w -> assertThat(w).contains("line 13: `mail.host`", "one value"))
        .anySatisfy(w -> assertThat(w).contains("line 14: `mail.from`", "plain address"));
  }

  @Test
  void aKeyGivenTwiceAndAFileThatIsNoYamlAreRefused() {
    assertThat(refused("port: 1\nport: 2\n")).singleElement().asString().contains("line 2");
    assertThat(refused("port: [1\nzone: x\n")).anySatisfy(w -> assertThat(w).contains("no YAML"));
    assertThat(refused("just words\n")).singleElement().asString().contains("holds no keys");
  }

  @Test
  void aPasswordComesFromTheEnvironmentOrAFileAndIsNeverPrinted() throws Exception {
    String mail =
        """
        mail:
          host: mail.example
          user: teller
          to: [a@b.example]
          password_file: secret.txt
        """;
    assertThat(refused(mail)).singleElement().asString().contains("MILEWARDEN_MAIL_PASSWORD");
    Files.writeString(folder.resolve("secret.txt"), "from a file\n");
    assertThat(password(read(mail, Map.of()))).contains("from a file");
    ConfigRead read = read(mail, Map.of("MILEWARDEN_MAIL_PASSWORD", "from outside"));
    assertThat(password(read)).contains("from outside");
    assertThat(read.toString()).doesNotContain("from outside");
  }

  private static Optional<String> password(ConfigRead read) {
    return read.fold(u -> Optional.of(u.config()), r -> Optional.<Config>empty())
        .flatMap(c -> c.mail().server())
        .flatMap(MailSettings.Server::login)
        .map(MailSettings.Login::password);
  }

  @Test
  void whoIsToldMayBeChosenOnTheSettingsPageAlone() {
    Config config = usable("mail:\n  host: mail.example\n");
    assertThat(config.mail().server()).isPresent();
    assertThat(config.mail().to()).isEmpty();
  }

  @Test
  void aWebhookNeedsAnAddressAndASecretThatIsNeverPrinted() {
    String yaml = "webhook:\n  url: https://chat.example/hooks/1\n";
    assertThat(refused(yaml))
        .singleElement()
        .asString()
        .contains("line 2", "MILEWARDEN_WEBHOOK_SECRET");
    assertThat(refused("webhook:\n  url: chat\n")).anyMatch(w -> w.contains("`webhook.url`"));
    String secret = "0123456789abcdef0123456789abcdef";
    ConfigRead read = read(yaml, Map.of("MILEWARDEN_WEBHOOK_SECRET", secret));
    assertThat(read.toString()).doesNotContain(secret).doesNotContain("hooks/1");
    Config config =
        read.fold(
            ConfigRead.Usable::config,
            r -> {
              throw new AssertionError(r.why());
            });
    assertThat(config.hook().orElseThrow().secret()).isEqualTo(secret);
  }

  @Test
  void aCertificateFileThatHoldsNoneIsRefused() {
    assertThat(refused("mail:\n  host: mail.example\n  certificate_file: none.pem\n"))
        .singleElement()
        .asString()
        .contains("line 3", "none.pem");
  }

  private static List<String> wrongPolicy(String yaml) {
    List<String> problems = new java.util.ArrayList<>();
    PolicyReader.read(YamlFile.parse("policy.yaml", yaml), problems);
    return problems;
  }

  @Test
  void theShippedPolicySaysTheDefaultsAndHoldsEveryKey() throws Exception {
    YamlFile shipped =
        YamlFile.parse("policy.yaml", Files.readString(Path.of("config", "policy.yaml")));
    List<String> problems = new java.util.ArrayList<>();
    assertThat(PolicyReader.read(shipped, problems)).isEqualTo(Policy.defaults());
    assertThat(problems).isEmpty();
    assertThat(PolicyReader.keys()).containsExactlyInAnyOrderElementsOf(shipped.entries().keySet());
  }

  @Test
  void thePolicyLiesBesideTheConfiguration() throws Exception {
    Files.writeString(folder.resolve("policy.yaml"), "material_change_percent: 0.7\n");
    assertThat(usable("").policy().materialChangePercent()).isEqualTo(0.7);
    Files.writeString(folder.resolve("policy.yaml"), "material_change: 0.7\n");
    assertThat(refused("")).singleElement().asString().contains("policy.yaml, line 1");
    assertThat(refused("policy: {file: other.yaml}"))
        .singleElement()
        .asString()
        .contains("other.yaml", "can't be read");
  }

  @Test
  void aWrongRuleIsRefusedWithItsLineAndWhatToWrite() {
    assertThat(wrongPolicy("power: 1.5\n"))
        .containsExactly(
            "policy.yaml, line 1: `power` is `1.5`; write a number between 0 and 1, such as 0.95");
    assertThat(wrongPolicy("looks:\n  sessions: [3, 3, 12]\n"))
        .singleElement()
        .asString()
        .contains("line 2", "must go up");
    assertThat(wrongPolicy("looks:\n  sessions: [3, 6]\n"))
        .singleElement()
        .asString()
        .contains("line 2", "one length");
    assertThat(wrongPolicy("purposes:\n  mean_limit_percent: [0.5, -1, 2]\n"))
        .singleElement()
        .asString()
        .contains("line 2", "-1", "above 0");
    assertThat(wrongPolicy("insufficient_sessions: 1\n")).hasSize(1);
  }
}
