package milewarden.benchmark;

import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import milewarden.course.ReferenceCourse;
import milewarden.matching.CourseIndex;
import milewarden.matching.ManyCourses;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;

/**
 * Time to recognise a course among 500, once where they lie over a town and once where all lie on
 * one ground; one command, a table on standard output. Context, not a test.
 */
public final class RecognitionBenchmark {
  private static final int COURSES = 500;
  private static final int TRACKS = 40;
  private static final int ROUNDS = 9;

  private RecognitionBenchmark() {}

  public static void main(String[] args) {
    System.out.printf(
        Locale.ROOT,
        "%-32s %10s %10s %12s %14s%n",
        "courses",
        "index ms",
        "first ms",
        "median ms",
        "elsewhere ms");
    row("500 over 20 km", ManyCourses.spread(COURSES, 20_000, 1));
    row("500 over 2 km", ManyCourses.spread(COURSES, 2_000, 2));
  }

  private static void row(String name, List<ReferenceCourse> courses) {
    List<Track> tracks = new ArrayList<>();
    SplittableRandom random = new SplittableRandom(5);
    for (int i = 0; i < TRACKS; i++)
      tracks.add(track(courses.get(random.nextInt(COURSES)), random.nextLong()));
    Track elsewhere = track(ManyCourses.at(200_000, 0, 3), 4);
    long a = cpuNs();
    CourseIndex index = CourseIndex.of(courses);
    double made = (cpuNs() - a) / 1e6;
    double first = time(index, tracks);
    double[] rounds = new double[ROUNDS];
    double[] none = new double[ROUNDS];
    for (int r = 0; r < ROUNDS; r++) {
      rounds[r] = time(index, tracks);
      none[r] = time(index, List.of(elsewhere));
    }
    Arrays.sort(rounds);
    Arrays.sort(none);
    System.out.printf(
        Locale.ROOT,
        "%-32s %10.1f %10.2f %12.3f %14.3f%n",
        name,
        made,
        first,
        rounds[ROUNDS / 2],
        none[ROUNDS / 2]);
  }

  private static Track track(ReferenceCourse course, long seed) {
    Receiver receiver = Receiver.PERFECT.withNoise(4, 20, 0.5);
    return TrackSimulator.simulate(Walk.of(course), receiver, Sky.CLEAR, seed).track();
  }

  /** Milliseconds a track. */
  private static double time(CourseIndex index, List<Track> tracks) {
    long a = cpuNs();
    for (Track t : tracks) index.recognise(t);
    return (cpuNs() - a) / 1e6 / tracks.size();
  }

  /** Of this thread: the machine may be busy with other work. */
  private static long cpuNs() {
    return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
  }
}
