package milewarden.benchmark;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.infra.BenchmarkParams;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.ChainedOptionsBuilder;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.runner.options.VerboseMode;

/**
 * JMH's benchmarks in one JVM, all of them in turn, round by round: what else the machine does
 * falls on every side alike. Each figure is the median over the rounds of processor time. A side is
 * called a fixed number of times, so that a busy machine takes longer and measures no less.
 */
final class InTurn {
  private final int rounds;
  private final double seconds;
  private final Map<String, Side> sides = new LinkedHashMap<>();
  private final Map<String, Double> medians = new LinkedHashMap<>();

  /**
   * @param seconds of processor time of one side in one round
   */
  InTurn(int rounds, double seconds) {
    this.rounds = rounds;
    this.seconds = seconds;
  }

  private record Side(String benchmark, Map<String, String> params, int calls) {}

  /**
   * Adds the sides whose names fit, called so often before anything is counted.
   *
   * @param which as a regular expression of class and method, {@code PipelineBenchmark.ours}
   */
  InTurn with(String which, int warmCalls) {
    String pattern = "milewarden\\.benchmark\\." + which;
    for (RunResult r : run(pattern, Map.of(), warmCalls)) {
      double ns = cpuNs(r) / warmCalls;
      Map<String, String> params = new LinkedHashMap<>();
      for (String p : r.getParams().getParamsKeys()) params.put(p, r.getParams().getParam(p));
      int calls = (int) Math.max(1, Math.min(100_000, Math.ceil(seconds * 1e9 / ns)));
      sides.put(name(r.getParams()), new Side(r.getParams().getBenchmark(), params, calls));
    }
    return this;
  }

  InTurn measure() {
    Map<String, List<Double>> all = new LinkedHashMap<>();
    for (int round = 0; round < rounds; round++)
      sides.forEach(
          (name, side) -> {
            RunResult r = run(side.benchmark + "$", side.params, side.calls).iterator().next();
            all.computeIfAbsent(name, n -> new ArrayList<>()).add(cpuNs(r) / side.calls);
          });
    all.forEach((name, of) -> medians.put(name, Median.of(of)));
    return this;
  }

  /**
   * Nanoseconds of processor a call, by the benchmark's class and name and its parameter, {@code
   * PipelineBenchmark.ours LOOP_MIN}.
   */
  double ns(String name) {
    Double found = medians.get(name);
    if (found == null) throw new IllegalArgumentException(name + " is none of " + medians.keySet());
    return found;
  }

  private static double cpuNs(RunResult r) {
    return r.getSecondaryResults().get(CpuTime.LABEL).getScore();
  }

  private static String name(BenchmarkParams params) {
    StringBuilder name =
        new StringBuilder(params.getBenchmark().substring("milewarden.benchmark.".length()));
    for (String p : params.getParamsKeys()) name.append(' ').append(params.getParam(p));
    return name.toString();
  }

  private static Collection<RunResult> run(String pattern, Map<String, String> params, int calls) {
    ChainedOptionsBuilder options =
        new OptionsBuilder()
            .include(pattern)
            .forks(0)
            .warmupIterations(0)
            .measurementIterations(1)
            .measurementBatchSize(calls)
            .mode(Mode.SingleShotTime)
            .timeUnit(TimeUnit.NANOSECONDS)
            .threads(1)
            .addProfiler(CpuTime.class)
            .verbosity(VerboseMode.SILENT)
            .shouldFailOnError(true);
    params.forEach((name, value) -> options.param(name, value));
    try {
      return new Runner(options.build()).run();
    } catch (RunnerException e) {
      throw new IllegalStateException(e);
    }
  }
}
