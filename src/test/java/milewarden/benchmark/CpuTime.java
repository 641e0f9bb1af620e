package milewarden.benchmark;

import com.sun.management.OperatingSystemMXBean;
import java.io.File;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.openjdk.jmh.infra.BenchmarkParams;
import org.openjdk.jmh.infra.IterationParams;
import org.openjdk.jmh.profile.InternalProfiler;
import org.openjdk.jmh.results.AggregationPolicy;
import org.openjdk.jmh.results.IterationResult;
import org.openjdk.jmh.results.Result;
import org.openjdk.jmh.results.ScalarResult;

/**
 * Processor time of the process, collector included: what the clock on the wall says is another's
 * work, too, where others use the machine. JMH's figures are without the JVM's compiler threads:
 * those still work off what is queued, JMH's own classes with it, while rounds are counted, and
 * took up to as long as a sample itself of whichever side they fell on.
 */
public final class CpuTime implements InternalProfiler {
  static final String LABEL = "cpu";

  private Start before = new Start(false);

  @Override
  public void beforeIteration(BenchmarkParams benchmark, IterationParams iteration) {
    before = new Start(false);
  }

  @Override
  public Collection<? extends Result<?>> afterIteration(
      BenchmarkParams benchmark, IterationParams iteration, IterationResult result) {
    return List.of(new ScalarResult(LABEL, before.ns(), "ns", AggregationPolicy.AVG));
  }

  /** Counts the process's time from here on, with that of the compilers. */
  static Start start() {
    return new Start(true);
  }

  /** The same without the compilers, for what is warm: they still work off what is queued. */
  static Start startWarm() {
    return new Start(false);
  }

  /**
   * A moment from which time is counted, thread by thread, to the nanosecond where the system tells
   * it, else in its ticks. A thread that has ended takes all of its time with it, that of before
   * this moment too: held against a sum over all threads, what came after would be less than
   * nothing. So the JVM is told to keep its compiler threads, and the rest of a thread that ends
   * meanwhile is left out.
   */
  static final class Start {
    private final boolean compilers;
    private final Map<String, Long> before;
    private final long wholeBefore = whole();

    private Start(boolean compilers) {
      this.compilers = compilers;
      before = byThread(compilers);
    }

    long ns() {
      Map<String, Long> now = byThread(compilers);
      if (now.isEmpty()) return whole() - wholeBefore;
      long sum = 0;
      for (Map.Entry<String, Long> thread : now.entrySet())
        sum += thread.getValue() - before.getOrDefault(thread.getKey(), 0L);
      return sum;
    }
  }

  private static long whole() {
    return ((OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
        .getProcessCpuTime();
  }

  /** Nanoseconds so far of the threads that live; none where the system doesn't tell. */
  private static Map<String, Long> byThread(boolean compilers) {
    File[] threads = new File("/proc/self/task").listFiles();
    Map<String, Long> times = new HashMap<>();
    if (threads == null) return times;
    for (File thread : threads)
      if (compilers || !isCompiler(thread.toPath()))
        times.put(thread.getName(), ofThread(thread.toPath().resolve("schedstat")));
    return times;
  }

  private static boolean isCompiler(Path thread) {
    try {
      String name = Files.readString(thread.resolve("comm"));
      return name.startsWith("C1 Comp") || name.startsWith("C2 Comp");
    } catch (IOException e) {
      // The thread has just ended.
      return false;
    }
  }

  // proc(5): the first number is the time spent on the processor, nanoseconds.
  private static long ofThread(Path schedstat) {
    try {
      String text = Files.readString(schedstat);
      return Long.parseLong(text.substring(0, text.indexOf(' ')));
    } catch (IOException e) {
      // The thread has just ended.
      return 0;
    }
  }

  @Override
  public String getDescription() {
    return "processor time of the process without its compilers";
  }
}
