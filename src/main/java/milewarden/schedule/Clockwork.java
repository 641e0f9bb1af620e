package milewarden.schedule;

import java.time.Duration;
import java.util.Map;
import java.util.Properties;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;
import org.quartz.JobBuilder;
import org.quartz.JobDetail;
import org.quartz.JobKey;
import org.quartz.Scheduler;
import org.quartz.SchedulerException;
import org.quartz.SimpleScheduleBuilder;
import org.quartz.Trigger;
import org.quartz.TriggerBuilder;
import org.quartz.impl.StdSchedulerFactory;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Runs named works again and again, and at once when they are woken. One work never runs twice at a
 * time; different works may run side by side. What a work has to do must lie in the store: nothing
 * about it is remembered here, so a crash forgets no task.
 *
 * <p>Safe for use by several threads.
 */
public final class Clockwork implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Clockwork.class);

  // Two schedulers of one name in one JVM would be one and the same to Quartz.
  private static final AtomicInteger COUNT = new AtomicInteger();

  // The longest that a stop waits for running works; the project's own choice.
  private static final Duration STOP_WITHIN = Duration.ofSeconds(5);

  private final Scheduler scheduler;
  private final Map<String, Work> works = new ConcurrentHashMap<>();
  private volatile boolean closed;

  /** A clockwork that stands still until {@link #start}. */
  public Clockwork() {
    try {
      scheduler = new StdSchedulerFactory(properties()).getScheduler();
      scheduler.setJobFactory(
          (bundle, ignored) -> new WorkJob(work(bundle.getJobDetail().getKey().getName())));
    } catch (SchedulerException e) {
      throw new IllegalStateException("the scheduler can't be made: " + e.getMessage(), e);
    }
  }

  private static Properties properties() {
    Properties p = new Properties();
    p.setProperty("org.quartz.scheduler.instanceName", "milewarden-" + COUNT.incrementAndGet());
    p.setProperty("org.quartz.scheduler.skipUpdateCheck", "true");
    p.setProperty("org.quartz.scheduler.makeSchedulerThreadDaemon", "true");
    p.setProperty("org.quartz.threadPool.class", "org.quartz.simpl.SimpleThreadPool");
    p.setProperty("org.quartz.threadPool.makeThreadsDaemons", "true");
    // Intake, courses, review, outbox, and one to spare: each work takes one thread at most.
    p.setProperty("org.quartz.threadPool.threadCount", "6");
    p.setProperty("org.quartz.jobStore.class", "org.quartz.simpl.RAMJobStore");
    return p;
  }

  /**
   * Runs the work now and then again, one period after another, once {@link #start} was called. A
   * work that takes longer than its period is late, never doubled.
   *
   * @param name known to {@link #wake}; once only
   * @param period above 0
   * @param work may throw: that is logged, and the work is run again when its time comes
   */
  public void every(String name, Duration period, Runnable work) {
    if (period.isNegative() || period.isZero())
      throw new IllegalArgumentException("period of " + name + ": " + period);
    if (works.putIfAbsent(name, new Work(name, work, () -> closed)) != null)
      throw new IllegalArgumentException("a second work named " + name);
    JobDetail job = JobBuilder.newJob(WorkJob.class).withIdentity(name).build();
    Trigger trigger =
        TriggerBuilder.newTrigger()
            .withIdentity(name)
            .startNow()
            .withSchedule(
                SimpleScheduleBuilder.simpleSchedule()
                    .withIntervalInMilliseconds(period.toMillis())
                    .repeatForever()
                    .withMisfireHandlingInstructionNextWithRemainingCount())
            .build();
    try {
      scheduler.scheduleJob(job, trigger);
    } catch (SchedulerException e) {
      throw new IllegalStateException("work " + name + ": " + e.getMessage(), e);
    }
  }

  /** Lets the works run. */
  public void start() {
    try {
      scheduler.start();
    } catch (SchedulerException e) {
      throw new IllegalStateException("the scheduler doesn't start: " + e.getMessage(), e);
    }
  }

  /**
   * Lets a work run as soon as it can: at once, or again after the run that is under way, which may
   * have looked before there was something to see. Several calls make one run.
   */
  public void wake(String name) {
    if (closed || !work(name).wantsWaking()) return;
    try {
      scheduler.triggerJob(JobKey.jobKey(name));
    } catch (SchedulerException e) {
      // Stopping, or full: the period brings the work back all the same.
      LOG.debug("work {} can't be woken: {}", name, e.getMessage());
    }
  }

  private Work work(String name) {
    Work work = works.get(name);
    if (work == null) throw new IllegalArgumentException("no work named " + name);
    return work;
  }

  /** Lets running works end, for 5 s at most; those that still run then are interrupted. */
  @Override
  public void close() {
    if (closed) return;
    closed = true;
    long until = System.nanoTime() + STOP_WITHIN.toNanos();
    try {
      scheduler.standby();
      for (Work work : works.values()) work.endBefore(until);
      scheduler.shutdown(false);
    } catch (SchedulerException e) {
      LOG.warn("the scheduler doesn't stop cleanly: {}", e.getMessage());
    }
  }
}
