package milewarden.intake;

import static milewarden.intake.Tester.HANDS;
import static milewarden.intake.Tester.PIER;
import static milewarden.intake.Tester.walk;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A file of tags beside a track speaks for it, between the field sheet and the folders. */
final class SidecarTest {
  private static final String TAGS = "unit: K9\nfirmware: 2.10\ncarriage: hand\n";

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

  @Test
  void aTrackThatComesAfterItsTagsNeedsNoOthers() {
    Received tags = tester.drop("a.gpx.tags.yaml", TAGS);
    assertThat(tags.kind()).isEqualTo(Kind.SIDECAR);
    assertThat(tags.state()).isEqualTo(State.MEASURED);
    Received track = tester.drop("a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    assertThat(track.state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(track.id()).firmware()).isEqualTo("2.10");
    assertThat(tester.tag(track.id(), TagName.UNIT).orElseThrow().source())
        .isEqualTo(TagSource.SIDECAR);
  }

  @Test
  void aTrackThatWaitsIsMeasuredWhenItsTagsCome() {
    Received track = tester.drop("a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    assertThat(track.state()).isEqualTo(State.WAITING);
    tester.drop("a.gpx.tags.yaml", TAGS);
    assertThat(tester.row(track.id()).state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(track.id()).unitName()).isEqualTo("K9");
  }

  @Test
  void theTesterAndTheSheetAreHeardFirstAndTheFoldersAfter() {
    tester.drop("Other/1.0/a.gpx.tags.yaml", TAGS);
    tester.drop("Other/1.0/session.csv", "file,firmware\na.gpx,3.0\n");
    Received track = tester.drop("Other/1.0/a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    assertThat(tester.run(track.id()).unitName()).isEqualTo("K9");
    assertThat(tester.run(track.id()).firmware()).isEqualTo("3.0");
    TagForm form = new TagForm(tester.database, tester.measuring::work);
    form.apply(List.of(track.id()), Map.of(TagName.UNIT, "K7"));
    assertThat(tester.run(track.id()).unitName()).isEqualTo("K7");
  }

  @Test
  void aNewerFileOfTagsRevisesAnOlderOne() {
    tester.drop("a.gpx.tags.yaml", TAGS);
    Received track = tester.drop("a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1));
    tester.drop("a.gpx.tags.yaml", TAGS.replace("2.10", "2.11"));
    assertThat(tester.run(track.id()).firmware()).isEqualTo("2.11");
  }

  @Test
  void aFileOfTagsThatCannotBeReadIsRefusedInWordsAndChangesNothing() {
    Received tags = tester.drop("a.gpx.tags.yaml", "unit: [a");
    assertThat(tags.state()).isEqualTo(State.REFUSED);
    assertThat(tags.reason().orElseThrow().sentence()).isNotBlank();
    assertThat(tester.drop("a.gpx", walk(PIER, "2026-05-12T07:00:00Z", 1)).state())
        .isEqualTo(State.WAITING);
  }
}
