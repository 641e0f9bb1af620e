package milewarden.benchmark;

import com.sun.management.OperatingSystemMXBean;
import java.io.File;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
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

  private long before;

  @Override
  public void beforeIteration(BenchmarkParams benchmark, IterationParams iteration) {
    before = ns(false);
  }

  @Override
  public Collection<? extends Result<?>> afterIteration(
      BenchmarkParams benchmark, IterationParams iteration, IterationResult result) {
    return List.of(new ScalarResult(LABEL, ns(false) - before, "ns", AggregationPolicy.AVG));
  }

  /**
   * To the nanosecond where the system tells it by thread, else in its ticks. A thread that ends
   * takes its time with it, so the JVM is told to keep its compiler threads.
   */
  static long processNs() {
    return ns(true);
  }

  private static long ns(boolean compilers) {
    File[] threads = new File("/proc/self/task").listFiles();
    if (threads == null)
      return ((OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
          .getProcessCpuTime();
    long sum = 0;
    for (File thread : threads)
      if (compilers || !isCompiler(thread.toPath()))
        sum += ofThread(thread.toPath().resolve("schedstat"));
    return sum;
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
