package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import milewarden.store.Database;
import milewarden.store.Samples;
import milewarden.store.TestStores;
import milewarden.store.Tx;
import milewarden.store.run.Models;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class ModelNamedTest {
  @TempDir Path folder;
  private Database database;

  @BeforeEach
  void open() {
    database = TestStores.SQLITE.open(folder, () -> Samples.T0);
    database.change(
        tx -> {
          Models.named(tx, "Fell 2");
          Models.named(tx, "Fell 20");
          Models.named(tx, "Moor");
        });
  }

  @AfterEach
  void close() {
    database.close();
  }

  private ModelNamed beginning(String text) {
    return database.read((Tx tx) -> ModelNamed.beginning(tx, text));
  }

  private ModelNamed whole(String text) {
    return database.read((Tx tx) -> ModelNamed.whole(tx, text));
  }

  @Test
  void aWholeNameIsMeantEvenWhereAnotherBeginsAlike() {
    assertThat(beginning("fell 2").model().orElseThrow().name()).isEqualTo("Fell 2");
    assertThat(whole("FELL 20").model().orElseThrow().name()).isEqualTo("Fell 20");
  }

  @Test
  void aBeginningIsEnoughWhereNoOtherSharesIt() {
    assertThat(beginning("mo").model().orElseThrow().name()).isEqualTo("Moor");
    assertThat(whole("mo").model()).isEmpty();
    ModelNamed many = beginning("fell");
    assertThat(many.model()).isEmpty();
    assertThat(many.near()).containsExactly("Fell 2", "Fell 20");
    assertThat(beginning(" ").model()).isEmpty();
  }

  @Test
  void aSlipNamesTheNearestFirst() {
    assertThat(beginning("Moro").near()).startsWith("Moor");
    assertThat(beginning("Fel 20").sentence())
        .isEqualTo("there is no model named Fel 20; the nearest are: Fell 20, Fell 2, Moor");
  }
}
