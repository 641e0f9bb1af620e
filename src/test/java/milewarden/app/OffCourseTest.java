package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Map;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.format.GpxWriter;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.Standings;
import milewarden.store.file.Standings.Standing;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What fits no course waits for one, on every page and in every figure. */
final class OffCourseTest {
  // Some 2,000 km from the only course.
  private static final ReferenceCourse FAR =
      InventedCourse.straight("far", new Position(20.0, 2.0), 30, 400);

  @TempDir private Path folder;

  @Test
  void aRecordingFarFromEveryCourseWaitsAndABrokenFileIsRefused() throws Exception {
    Household house = new Household(folder);
    try (Database look = Database.open(StoreSettings.in(house.data), InstantSource.system());
        App app = house.serve()) {
      house.drop("all/near.gpx", Household.track(Household.day(0), 0));
      house.drop("all/far.gpx", far());
      house.drop("all/torn.gpx", "<gpx><trk>".getBytes(StandardCharsets.UTF_8));
      house.dropSheet(
          "all/session.csv",
          Household.row("B0", Household.day(0), "near.gpx", "1.0", "0.401")
              + Household.row("B1", Household.day(1), "far.gpx", "1.0", "0.401")
                  .replace("pier", ""));
      Map<Standing, Integer> parted =
          Map.of(Standing.MEASURED, 2, Standing.OFF_COURSE, 1, Standing.REFUSED, 1);
      Await.until(
          "a run, one off course, one refused",
          () -> look.read(tx -> Standings.counts(tx)),
          () -> look.read(tx -> Standings.counts(tx)).equals(parted));
      Season.atRest(look);
      Crawl home = new Crawl("http://127.0.0.1:" + app.port());
      assertThat(words(home.ask("/")))
          .contains("1 file waits for a course, 1 file was refused")
          .doesNotContain("2 files were refused");
      Await.until("moved", () -> house.files("refused"), () -> house.files("refused").size() == 2);
      assertThat(house.files("refused")).anyMatch(f -> f.endsWith("all/far.gpx"));
      Await.until(
          "where it lies is told",
          () -> words(home.ask("/intake")),
          () ->
              words(home.ask("/intake"))
                  .contains("Until a course fits, they are kept: in the folder refused"));
      assertThat(words(home.ask("/intake")))
          .contains("One file waits for a course; one was refused, and kept.")
          .contains("waiting for a course 1", "refused 1", "measured 2")
          .contains("It lies on no known course; the nearest is pier", "measured by itself");
      assertThat(latest(home.ask("/intake?state=off-course")))
          .contains("all/far.gpx", "waiting for a course")
          .doesNotContain("all/torn.gpx");
      assertThat(latest(home.ask("/intake?state=refused")))
          .contains("all/torn.gpx")
          .doesNotContain("all/far.gpx");
      assertThat(home.ask("/metrics").body())
          .contains("milewarden_files_off_course 1.0", "milewarden_files_refused 1.0");

      Files.writeString(house.data.resolve("courses/far.geojson"), CourseFile.write(FAR));
      Map<Standing, Integer> taken = Map.of(Standing.MEASURED, 3, Standing.REFUSED, 1);
      Await.until(
          "its course came",
          () -> look.read(tx -> Standings.counts(tx)),
          () -> look.read(tx -> Standings.counts(tx)).equals(taken));
      assertThat(words(home.ask("/")))
          .contains("1 file was refused")
          .doesNotContain("waits for a course");
    }
  }

  private static byte[] far() {
    Walk walk = Walk.of(FAR).withStart(Household.day(1));
    Receiver receiver = Receiver.PERFECT.withNoise(1.0, 20, 0.1);
    return GpxWriter.write(TrackSimulator.simulate(walk, receiver, Sky.CLEAR, 7).track())
        .getBytes(StandardCharsets.UTF_8);
  }

  private static String latest(HttpResponse<String> page) {
    return words(page).substring(words(page).indexOf("id=\"intake-latest\""));
  }

  private static String words(HttpResponse<String> page) {
    assertThat(page.statusCode()).isEqualTo(200);
    String body = page.body().replace("\u00a0", " ");
    return body.substring(Math.max(0, body.indexOf("<main")));
  }
}
