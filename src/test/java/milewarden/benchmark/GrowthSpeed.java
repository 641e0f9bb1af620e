package milewarden.benchmark;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.ForkJoinPool;
import java.util.function.ToDoubleFunction;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.intake.drop.OneByOne;
import milewarden.simulator.Walk;
import milewarden.track.Track;

/** How the work grows with what it is given, and what a second worker brings. */
final class GrowthSpeed {
  private static final int ROUNDS = 5;

  // About as long as measuring an hour's recording.
  private static final long COUNTED = 3_000_000;

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
    List<Double> most = new ArrayList<>();
    for (int round = 0; round < ROUNDS; round++) {
      ratios.add(
          wallS(1, GrowthSpeed::measureAgain, Hour.LOOP_MIN.gpx)
              / wallS(2, GrowthSpeed::measureAgain, Hour.LOOP_MIN.gpx));
      most.add(wallS(1, GrowthSpeed::count, COUNTED) / wallS(2, GrowthSpeed::count, COUNTED));
    }
    double ratio = Median.of(ratios);
    table.least(
        "two workers",
        "%s times one: they share nothing but the memory; two that only count, without any, %s times"
            .formatted(Table.of(ratio), Table.of(Median.of(most))),
        ratio,
        1.7,
        " times");
  }

  private static double measureAgain(byte[] gpx) {
    return length(PipelineBenchmark.read(gpx));
  }

  /** Nothing but the registers of one processor: what the machine has to give to two workers. */
  private static double count(long steps) {
    long x = steps;
    // The multiplier of Knuth's MMIX, from memory; any odd number would do.
    for (long i = 0; i < steps; i++) x = x * 6364136223846793005L + i;
    return x;
  }

  private static <T> double wallS(int workers, ToDoubleFunction<T> work, T with) throws Exception {
    ForkJoinPool pool = new ForkJoinPool(workers);
    try {
      long from = System.nanoTime();
      pool.submit(() -> OneByOne.map(Collections.nCopies(64, with), work::applyAsDouble)).get();
      return (System.nanoTime() - from) / 1e9;
    } finally {
      pool.shutdown();
    }
  }
}
