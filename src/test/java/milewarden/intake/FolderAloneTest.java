package milewarden.intake;

import static milewarden.intake.Tester.HANDS;
import static milewarden.intake.Tester.PIER;
import static milewarden.intake.Tester.walk;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.run.Models;
import milewarden.track.TagName;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A folder that may be named after a device, a day or a place. */
final class FolderAloneTest {
  @TempDir Path data;
  private Tester tester;

  @BeforeEach
  void open() {
    tester = new Tester(data, HANDS);
    tester.course(PIER);
  }

  @AfterEach
  void close() {
    tester.close();
  }

  private Received drop(String name, String start, int seed) {
    tester.drop(name + ".tags.yaml", "firmware: 1.0\n");
    return tester.drop(name, walk(PIER, start, seed));
  }

  private void answer(Received file, String unit) {
    TagForm form = new TagForm(tester.database, tester.measuring::work);
    assertThat(form.apply(List.of(file.id()), Map.of(TagName.UNIT, unit))).isEmpty();
    assertThat(tester.row(file.id()).state()).isEqualTo(State.MEASURED);
  }

  @Test
  void isAskedAboutAndNamesNoModelByItself() {
    Received file = drop("summer/a.gpx", "2026-05-12T07:00:00Z", 1);
    assertThat(file.state()).isEqualTo(State.WAITING);
    assertThat(file.missing()).containsExactly(TagName.UNIT);
    assertThat(file.reason().orElseThrow().sentence())
        .contains("Nothing says its unit.", "“summer” is no unit or model that is known");
    assertThat(tester.database.read(Models::all)).isEmpty();
    answer(file, "K1");
    assertThat(tester.database.read(Models::all))
        .extracting(Models.Model::name)
        .containsExactly("K1");
  }

  @Test
  void namesItsDeviceOnceThatIsKnown() {
    answer(drop("K1/a.gpx", "2026-05-12T07:00:00Z", 1), "K1");
    Received next = drop("K1/b.gpx", "2026-05-13T07:00:00Z", 2);
    assertThat(next.state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(next.id()).unitName()).isEqualTo("K1");
    assertThat(tester.tag(next.id(), TagName.UNIT).orElseThrow().source())
        .isEqualTo(milewarden.track.TagSource.FOLDER);
  }

  @Test
  void isNotBlamedWhereAnotherSaysTheUnit() {
    tester.drop("summer/a.gpx.tags.yaml", "unit: K1\n");
    Received file = tester.drop("summer/a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    assertThat(file.missing()).containsExactly(TagName.FIRMWARE);
    assertThat(file.reason().orElseThrow().sentence()).doesNotContain("summer");
  }
}
