package milewarden.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import milewarden.store.Database;
import milewarden.store.Id.FileId;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.run.Courses;
import milewarden.track.TagName;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A course's stored line is damaged: what fits another goes on, the rest waits and is told so. */
final class DamagedCourseTest {
  private static final String ROW =
      "session,date,unit,firmware,course,carriage,gait,shown,shown_unit\n"
          + "S9,2026-05-11,K1,1.0,pier,hand,walk,0.40,km\n";

  @TempDir private Path data;
  private Tester tester;

  @BeforeEach
  void open() {
    tester = new Tester(data, Tester.HANDS);
    tester.course(Tester.PIER);
    tester.course(Tester.LOOP);
  }

  @AfterEach
  void close() {
    tester.close();
  }

  private void sql(String sql) {
    tester.database.change(tx -> assertThat(tx.update(sql).execute()).isPositive());
  }

  private static List<String> unread(Database database) {
    List<String> unread = new ArrayList<>();
    database.change(tx -> Courses.readable(tx, unread));
    return unread;
  }

  @Test
  void aDamagedLineIsReadAnewFromTheBytesOfItsFile() {
    sql("update course_version set course = '{torn' where slug = 'pier'");
    assertThat(unread(tester.database)).containsExactly("pier");
    Received file =
        tester.drop("K1/1.0/a.gpx", Tester.walk(Tester.PIER, "2026-05-10T08:00:00Z", 1));
    assertThat(file.state()).isEqualTo(State.MEASURED);
    assertThat(unread(tester.database)).isEmpty();
  }

  @Test
  void whereItsBytesAreDamagedTooWhatMayBeItsOwnWaitsUntilItIsMended() {
    sql("update course_version set course = '{torn' where slug = 'pier'");
    tester.database.change(
        tx -> tx.update("create table whole as select * from content").execute());
    sql(
        "update content set deflated = x'00112233' where sha256 ="
            + " (select version from course_version where slug = 'pier')");
    Received loop =
        tester.drop("K1/1.0/loop.gpx", Tester.walk(Tester.LOOP, "2026-05-10T08:00:00Z", 1));
    assertThat(loop.state()).as("what fits another course goes on").isEqualTo(State.MEASURED);
    Received pier =
        tester.drop("K1/1.0/pier.gpx", Tester.walk(Tester.PIER, "2026-05-10T09:00:00Z", 2));
    assertThat(pier.state()).isEqualTo(State.WAITING);
    assertThat(pier.missing()).containsExactly(TagName.COURSE);
    assertThat(pier.reason().orElseThrow().sentence())
        .contains("may lie on pier, whose stored line can't be", "measured by itself");
    FileId tagged = tester.receive("S8/w.gpx", Tester.walk(Tester.LOOP, "2026-05-10T10:00:00Z", 3));
    tester.drop(
        "S8/session.csv",
        "session,file,unit,firmware,course,carriage,gait\nS8,w.gpx,K1,1.0,pier,hand,walk\n");
    assertThat(tester.row(tagged).state()).isEqualTo(State.WAITING);
    assertThat(tester.row(tagged).reason().orElseThrow().sentence())
        .contains("stored line of the course pier can't be read now");
    Received sheet = tester.drop("S9/session.csv", ROW);
    assertThat(sheet.reason().orElseThrow().sentence())
        .contains("stored line of the course pier can't be read now");
    assertThat(tester.runs()).hasSize(1);

    sql(
        "update content set deflated = (select deflated from whole where whole.sha256 ="
            + " content.sha256) where sha256 ="
            + " (select version from course_version where slug = 'pier')");
    tester.drop("K1/1.0/more.gpx", Tester.walk(Tester.LOOP, "2026-05-10T11:00:00Z", 4));
    assertThat(tester.row(pier.id()).state()).isEqualTo(State.MEASURED);
    assertThat(tester.row(tagged).reason().orElseThrow().sentence())
        .as("it is judged by the course it names, and lies elsewhere")
        .doesNotContain("stored line");
    assertThat(tester.runs()).as("two on the loop, one on the pier, one of a row").hasSize(4);
    assertThat(tester.row(sheet.id()).reason()).isEmpty();
  }
}
