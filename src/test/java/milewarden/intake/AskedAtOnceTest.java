package milewarden.intake;

import static milewarden.intake.Tester.HANDS;
import static milewarden.intake.Tester.LOOP;
import static milewarden.intake.Tester.PIER;
import static milewarden.intake.Tester.walk;
import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.file.Standings.Standing;
import milewarden.track.TagName;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What fits no course and says nothing of itself is asked for everything together. */
final class AskedAtOnceTest {
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
  void theCourseAndTheTagsAreAskedForAtOnceAndAnsweredBeforeTheCourseIsThere() {
    Received file = tester.drop("a.gpx", walk(LOOP, "2026-05-12T07:00:00Z", 1));
    assertThat(Standing.of(file)).isEqualTo(Standing.OFF_COURSE);
    assertThat(file.missing())
        .containsExactlyInAnyOrder(TagName.COURSE, TagName.UNIT, TagName.FIRMWARE);
    assertThat(file.reason().orElseThrow().sentence())
        .contains("It lies on no known course", "Nothing says its unit and firmware.");

    TagForm form = new TagForm(tester.database, tester.measuring::work);
    Map<TagName, String> answer = Map.of(TagName.UNIT, "K1", TagName.FIRMWARE, "1.0");
    assertThat(form.apply(List.of(file.id()), answer)).isEmpty();
    Received then = tester.row(file.id());
    assertThat(Standing.of(then)).isEqualTo(Standing.OFF_COURSE);
    assertThat(then.missing()).containsExactly(TagName.COURSE);
    assertThat(then.reason().orElseThrow().sentence()).doesNotContain("Nothing says");

    // As soon as its course is there it is measured, and nothing is asked any more.
    tester.course(LOOP);
    tester.measuring.work();
    assertThat(tester.row(file.id()).state()).isEqualTo(State.MEASURED);
    assertThat(tester.run(file.id()).unitName()).isEqualTo("K1");
  }
}
