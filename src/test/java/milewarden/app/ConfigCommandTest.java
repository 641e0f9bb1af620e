package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Map;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import milewarden.people.Role;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.people.Staff;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code config check}. */
final class ConfigCommandTest {
  @TempDir Path folder;
  private Household house;
  private final StringWriter said = new StringWriter();

  @BeforeEach
  void furnish() throws Exception {
    house = new Household(folder);
  }

  private int check() {
    said.getBuffer().setLength(0);
    PrintWriter to = new PrintWriter(said, true);
    return Milewarden.run(
        Map.of("config", () -> new ConfigCommand()),
        to,
        to,
        "config",
        "check",
        "--data",
        house.data.toString(),
        "--config",
        house.configFile.toString());
  }

  @Test
  void aFreshFolderIsFineAndStaysAsItIs() {
    assertThat(check()).as(said.toString()).isEqualTo(Exit.DONE);
    assertThat(said.toString())
        .contains("nobody; this machine may all", "store: " + house.data.resolve("milewarden.db"))
        .doesNotContain("MEND");
    assertThat(house.data.resolve("milewarden.db")).doesNotExist();
  }

  @Test
  void aMistakeIsSaidWithItsLine() {
    house.configure("adress: 0.0.0.0");
    assertThat(check()).isEqualTo(Exit.WRONG_USE);
    assertThat(said.toString()).contains("did you mean `address`?");
    house.configure("address: tests.example");
    assertThat(check()).isEqualTo(Exit.WRONG_USE);
    assertThat(said.toString()).contains("an address of this machine");
  }

  @Test
  void anAddressThatOthersReachTakesAKeeperAndTls() {
    house.configure("address: 0.0.0.0");
    assertThat(check()).isEqualTo(Exit.FINDINGS);
    assertThat(said.toString()).contains("people add NAME --role keeper", "plain HTTP");
    try (Database database = Database.open(StoreSettings.in(house.data), InstantSource.system())) {
      assertThat(Staff.add(database, "Ada", Role.KEEPER, "meadow kettle ninety lantern")).isEmpty();
    }
    house.configure("address: 0.0.0.0\npublic:\n  url: https://tests.example/");
    assertThat(check()).as(said.toString()).isEqualTo(Exit.DONE);
  }

  /** RFC 5737: 192.0.2.0/24 is nobody's. */
  @Test
  void anAddressOfAnotherMachineAndATakenPortAreFound() throws Exception {
    house.configure("address: 192.0.2.7");
    assertThat(check()).isEqualTo(Exit.FINDINGS);
    assertThat(said.toString()).contains("192.0.2.7");
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      Files.writeString(house.configFile, "port: " + taken.getLocalPort() + "\n");
      assertThat(check()).isEqualTo(Exit.FINDINGS);
      assertThat(said.toString()).contains("another program has it");
    }
  }

  @Test
  void aFolderThatIsNoneAndAStoreThatIsNoneAreFound() throws Exception {
    Files.createDirectories(house.data);
    Files.writeString(house.data.resolve("milewarden.db"), "not a database");
    assertThat(check()).isEqualTo(Exit.FINDINGS);
    assertThat(said.toString()).contains("store: it can't be read");
    Path file = Files.writeString(folder.resolve("file"), "x");
    Files.writeString(house.configFile, "courses:\n  folder: " + file + "\n");
    assertThat(check()).isEqualTo(Exit.FINDINGS);
    assertThat(said.toString()).contains("is no folder");
    house.configure("backup:\n  folder: " + file);
    assertThat(check()).isEqualTo(Exit.FINDINGS);
    assertThat(said.toString()).contains("daily copies: " + file + " is no folder");
  }
}
