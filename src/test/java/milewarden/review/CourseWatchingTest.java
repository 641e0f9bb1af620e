package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import milewarden.course.ReferenceCourse;
import milewarden.store.Database;
import milewarden.store.Samples;
import milewarden.store.StoreSettings;
import milewarden.verdict.Policy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Of very many passes a course's page tells what was worked out last, and says when. */
final class CourseWatchingTest {
  private static final Instant NOW = Instant.parse("2026-11-20T18:00:00Z");
  private static final int MANY = 2;

  @TempDir Path folder;

  private static CourseWatching.Seen seen(Database database, ReferenceCourse course, int many) {
    return database.read(tx -> CourseWatching.of(tx, course, Policy.defaults(), many));
  }

  @Test
  void whatIsNotToldYetIsSaidUntilItIs() {
    try (Database database = Database.open(StoreSettings.in(folder), () -> NOW)) {
      ReferenceCourse loop = database.write(tx -> Samples.put(tx, Samples.course("loop", "v1")));
      database.change(tx -> Samples.run(tx, "A1", "1.0", "s1", Samples.T0, loop, 1.0, 1.1));
      CourseWatching.Seen first = seen(database, loop, MANY);
      assertThat(first.asOf()).isEmpty();
      assertThat(first.uses().runs()).isEqualTo(1);

      Instant later = Samples.T0.plus(Duration.ofDays(1));
      database.change(tx -> Samples.run(tx, "B1", "1.0", "s2", later, loop, 1.0));
      CourseWatching.Seen old = seen(database, loop, MANY);
      assertThat(old.asOf()).contains(NOW);
      assertThat(old.uses().runs()).isEqualTo(1);

      CourseWatching.keepFresh(database, Policy.defaults(), () -> {}, () -> {});
      CourseWatching.Seen fresh = seen(database, loop, MANY);
      assertThat(fresh.asOf()).isEmpty();
      assertThat(fresh.uses().runs()).isEqualTo(2);

      Instant last = Samples.T0.plus(Duration.ofDays(2));
      database.change(tx -> Samples.run(tx, "B1", "1.0", "s3", last, loop, 1.0));
      CourseWatching.Seen few = seen(database, loop, 1000);
      assertThat(few.asOf()).as("few passes are gone through at once").isEmpty();
      assertThat(few.uses().runs()).isEqualTo(3);
    }
  }
}
