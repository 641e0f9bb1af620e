package milewarden.benchmark;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.ForkJoinPool;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.intake.drop.OneByOne;
import milewarden.simulator.Walk;
import milewarden.track.Track;

/** How the work grows with what it is given, and what a second worker brings. */
final class GrowthSpeed {
  private static final int ROUNDS = 5;

  private GrowthSpeed() {}

  /** The slope of log time over log size between the smallest and the largest. */
  static double exponent(double fewer, double less, double more, double longer) {
    return Math.log(longer / less) / Math.log(more / fewer);
  }

  static void measure(Table table) throws Exception {
    fixes(table);
    workers(table);
  }

  private static void fixes(Table table) {
    Track hour = Hour.LOOP_MIN.track;
    Track day = Hour.track(Walk.of(Hour.LOOP_MIN.course).withLaps(64), 2);
    // The optimizer sees both sizes before either is counted.
    for (int i = 0; i < 100; i++) length(hour);
    for (int i = 0; i < 6; i++) length(day);
    List<Double> few = new ArrayList<>();
    List<Double> many = new ArrayList<>();
    for (int round = 0; round < ROUNDS; round++) {
      few.add(cpuNs(() -> repeat(hour, 16)) / 16);
      many.add(cpuNs(() -> length(day)));
    }
    double e = exponent(hour.size(), Median.of(few), day.size(), Median.of(many));
    table.most(
        "growth of measuring with the fixes, %d to %d".formatted(hour.size(), day.size()),
        "exponent %s: each fix is held against the places of the course near it, then all are sorted"
            .formatted(Table.of(e)),
        e,
        1.05,
        "");
  }

  private static void repeat(Track track, int times) {
    for (int i = 0; i < times; i++) length(track);
  }

  private static double length(Track track) {
    double lengthM =
        Measurer.measure(track, Hour.LOOP_MIN.course, MeasureOptions.NONE).trackLengthM();
    if (Double.isNaN(lengthM)) throw new IllegalStateException("no result");
    return lengthM;
  }

  private static double cpuNs(Runnable work) {
    CpuTime.Start from = CpuTime.start();
    work.run();
    return from.ns();
  }

  private static void workers(Table table) throws Exception {
    List<Double> ratios = new ArrayList<>();
    for (int round = 0; round < ROUNDS; round++) ratios.add(wallS(1) / wallS(2));
    double ratio = Median.of(ratios);
    table.least(
        "two workers",
        "%s times one: they share nothing but the memory".formatted(Table.of(ratio)),
        ratio,
        1.7,
        " times");
  }

  private static double wallS(int workers) throws Exception {
    ForkJoinPool pool = new ForkJoinPool(workers);
    try {
      long from = System.nanoTime();
      pool.submit(
              () ->
                  OneByOne.map(
                      Collections.nCopies(64, Hour.LOOP_MIN.gpx),
                      gpx -> length(PipelineBenchmark.read(gpx))))
          .get();
      return (System.nanoTime() - from) / 1e9;
    } finally {
      pool.shutdown();
    }
  }
}
