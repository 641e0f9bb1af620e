package milewarden.benchmark;

import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.DoubleSupplier;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.matching.CourseMatcher;
import milewarden.matching.Shapes;
import milewarden.matching.Timeline;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;

/**
 * Processor time of matching by fix and by vertex, side by side with the nearest point that JTS
 * finds, which knows of no leg and no lap; one command, a table on standard output: {@code java -cp
 * target/test-classes:target/classes:... milewarden.benchmark.MatchingBenchmark}. Each round does
 * all in turn; medians. Context, not a test: nothing here decides anything.
 */
public final class MatchingBenchmark {
  private static final int ROUNDS = 9;
  private static final int WARM = 300;

  private MatchingBenchmark() {}

  private record Case(String name, Walk walk, double intervalS) {}

  public static void main(String[] args) {
    List<Case> cases = new ArrayList<>();
    for (double edge : new double[] {20, 2, 0.2, 0.02})
      cases.add(
          new Case(
              "track 400 m, edges " + edge + " m",
              Walk.of(Shapes.oval(84.39, 36.8, edge)).withLaps(25).withGait(Gait.RUN, 3),
              1));
    cases.add(
        new Case(
            "figure eight", Walk.of(Shapes.figureEight()).withLaps(13).withGait(Gait.RUN, 3), 1));
    cases.add(
        new Case(
            "out and back 5 km",
            Walk.of(Shapes.straight(5000)).withLaps(2).withGait(Gait.RUN, 3),
            1));
    for (int laps : new int[] {7, 75})
      cases.add(
          new Case(
              "track 400 m, " + laps + " laps",
              Walk.of(Shapes.oval()).withLaps(laps).withGait(Gait.RUN, 3),
              1));
    System.out.printf(
        Locale.ROOT,
        "%-28s %7s %8s %9s %9s %9s %9s %10s %10s%n",
        "nanoseconds of CPU a fix",
        "fixes",
        "vertices",
        "match",
        "measure",
        "JTS line",
        "JTS tree",
        "line/match",
        "tree/match");
    for (Case c : cases) row(c);
  }

  private static void row(Case c) {
    ReferenceCourse course = c.walk().course();
    Track track =
        TrackSimulator.simulate(
                c.walk(),
                Receiver.PERFECT.withNoise(3, 20, 0.3).withInterval(c.intervalS()),
                Sky.CLEAR,
                1)
            .track();
    CourseMatcher matcher = CourseMatcher.of(course);
    NearestByJts jts = new NearestByJts(course);
    List<DoubleSupplier> sides =
        List.of(
            () -> matcher.match(track, Timeline.of(track), Optional.empty()).nearShare(),
            () -> Measurer.measure(track, course, MeasureOptions.NONE).trackLengthM(),
            () -> jts.byLine(track),
            () -> jts.byTree(track));
    int[] repeats = {0, 0, 0, 0};
    for (int s = 0; s < repeats.length; s++)
      // The line of JTS looks at every edge: one go of it takes as long as many others.
      repeats[s] = s == 2 ? 1 : Math.max(1, WARM * 3600 / track.size() / 10);
    double[][] ns = new double[repeats.length][ROUNDS];
    for (int round = -3; round < ROUNDS; round++)
      for (int s = 0; s < repeats.length; s++) {
        double took = timed(sides.get(s), repeats[s]) / track.size();
        if (round >= 0) ns[s][round] = took;
      }
    for (double[] of : ns) Arrays.sort(of);
    int m = ROUNDS / 2;
    System.out.printf(
        Locale.ROOT,
        "%-28s %7d %8d %9.0f %9.0f %9.0f %9.0f %10.1f %10.1f%n",
        c.name(),
        track.size(),
        course.line().positions().size(),
        ns[0][m],
        ns[1][m],
        ns[2][m],
        ns[3][m],
        ns[2][m] / ns[0][m],
        ns[3][m] / ns[0][m]);
  }

  private static double timed(DoubleSupplier side, int repeats) {
    double sink = 0;
    long a = cpuNs();
    for (int r = 0; r < repeats; r++) sink += side.getAsDouble();
    long b = cpuNs();
    if (Double.isNaN(sink)) throw new IllegalStateException("no result");
    return (b - a) / (double) repeats;
  }

  /** Of this thread: the machine may be busy with other work. */
  private static long cpuNs() {
    return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
  }
}
