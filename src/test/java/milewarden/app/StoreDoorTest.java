package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import milewarden.cli.Places;
import milewarden.cli.kept.Tools;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.judged.DueItems;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class StoreDoorTest {
  @TempDir Path folder;

  @Test
  void aMistypedFolderIsNotMadeAndSaidToHoldNothing() {
    Path mistyped = folder.resolve("dta");
    assertThatThrownBy(() -> new StoreDoor().open(Places.of(mistyped)))
        .hasMessageContaining("there is no store in " + mistyped)
        .hasMessageContaining("--data");
    assertThat(Files.exists(mistyped)).isFalse();
  }

  @Test
  void aStoreIsReadBesideARunningServer() {
    try (Database server = Database.open(StoreSettings.in(folder), InstantSource.system());
        Tools tools = new StoreDoor().open(Places.of(folder))) {
      assertThat(server.where()).isNotBlank();
      List<DueItems.Due> open = tools.database().read(tx -> DueItems.open(tx));
      assertThat(open).isEmpty();
    }
  }
}
