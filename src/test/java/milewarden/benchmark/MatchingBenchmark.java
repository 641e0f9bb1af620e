package milewarden.benchmark;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
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
 * Time of matching and of measuring by fix and by vertex; one command, a table on standard output:
 * {@code java -cp target/test-classes:target/classes:... milewarden.benchmark.MatchingBenchmark}.
 * Context, not a test: nothing here decides anything.
 */
public final class MatchingBenchmark {
  private static final int ROUNDS = 7;
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
        "%-28s %8s %9s %12s %12s%n",
        "case",
        "fixes",
        "vertices",
        "match ns/fix",
        "whole ns/fix");
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
    double[] match = new double[ROUNDS];
    double[] whole = new double[ROUNDS];
    double sink = 0;
    int repeats = Math.max(3, WARM * 3600 / track.size() / 10);
    for (int warm = 0; warm < 3; warm++)
      for (int r = 0; r < repeats; r++) {
        sink += matcher.match(track, Timeline.of(track), Optional.empty()).nearShare();
        sink += Measurer.measure(track, course, MeasureOptions.NONE).trackLengthM();
      }
    for (int round = 0; round < ROUNDS; round++) {
      long a = System.nanoTime();
      for (int r = 0; r < repeats; r++)
        sink += matcher.match(track, Timeline.of(track), Optional.empty()).nearShare();
      long b = System.nanoTime();
      for (int r = 0; r < repeats; r++)
        sink += Measurer.measure(track, course, MeasureOptions.NONE).trackLengthM();
      long d = System.nanoTime();
      match[round] = (b - a) / (double) repeats / track.size();
      whole[round] = (d - b) / (double) repeats / track.size();
    }
    Arrays.sort(match);
    Arrays.sort(whole);
    System.out.printf(
        Locale.ROOT,
        "%-28s %8d %9d %12.0f %12.0f%s%n",
        c.name(),
        track.size(),
        course.line().positions().size(),
        match[ROUNDS / 2],
        whole[ROUNDS / 2],
        Double.isNaN(sink) ? "!" : "");
  }
}
