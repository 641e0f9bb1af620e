package milewarden.schedule;

import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.LongSupplier;
import javax.sql.DataSource;
import org.quartz.DateBuilder;
import org.quartz.JobBuilder;
import org.quartz.JobDetail;
import org.quartz.JobKey;
import org.quartz.Scheduler;
import org.quartz.SchedulerException;
import org.quartz.SimpleScheduleBuilder;
import org.quartz.Trigger;
import org.quartz.TriggerBuilder;
import org.quartz.TriggerKey;
import org.quartz.impl.SchedulerRepository;
import org.quartz.impl.StdSchedulerFactory;
import org.quartz.utils.DBConnectionManager;
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

  // The longest that a stop waits for running works: of the 5 s that a stop may take in all, the
  // rest is for what is closed before and after. The project's own choice.
  private static final Duration STOP_WITHIN = Duration.ofSeconds(3);

  // The scheduler goes by the wall clock: where that was set back, every work would wait for the
  // time that was taken away. The watch goes by the processor's own.
  private static final Duration WATCH = Duration.ofSeconds(5);
  // Slewing by a time service stays far below; the project's own choice, no source.
  private static final Duration JUMP = Duration.ofSeconds(2);

  private final Scheduler scheduler;
  private final InstantSource clock;
  private final LongSupplier nanoTime;
  private final ScheduledExecutorService watch =
      Executors.newSingleThreadScheduledExecutor(Clockwork::watcher);
  private final Map<String, Work> works = new ConcurrentHashMap<>();
  private final Map<String, Duration> periods = new ConcurrentHashMap<>();
  private volatile boolean closed;
  private Instant lastSeen;
  private long lastNanos;
  private boolean wasSetBack;

  /**
   * A clockwork of this process alone; it stands still until {@link #start}.
   *
   * @param clock watched for being set back
   */
  public Clockwork(InstantSource clock) {
    this(clock, System::nanoTime);
  }

  Clockwork(InstantSource clock, LongSupplier nanoTime) {
    this(QuartzSettings.alone("milewarden-" + COUNT.incrementAndGet()), clock, nanoTime);
  }

  private Clockwork(Properties properties, InstantSource clock, LongSupplier nanoTime) {
    this.clock = clock;
    this.nanoTime = nanoTime;
    this.lastSeen = clock.instant();
    this.lastNanos = nanoTime.getAsLong();
    try {
      scheduler = new StdSchedulerFactory(properties).getScheduler();
      // Quartz would give a second station in this process, as tests have them, the first one's.
      SchedulerRepository.getInstance().remove(scheduler.getSchedulerName());
      scheduler.setJobFactory(
          (bundle, ignored) -> new WorkJob(work(bundle.getJobDetail().getKey().getName())));
    } catch (SchedulerException e) {
      throw new IllegalStateException("the scheduler can't be made: " + e.getMessage(), e);
    }
  }

  /**
   * A clockwork that several stations share: at its time each work is done by one of them, and what
   * a station that died had begun is begun again by another. Every station names the same works.
   * Its works can't be woken.
   *
   * @param source connections to the database that holds Quartz's tables
   * @param station a name that no other has
   * @param clock watched for being set back
   */
  public static Clockwork shared(DataSource source, String station, InstantSource clock) {
    String name = "stations-" + COUNT.incrementAndGet();
    DBConnectionManager.getInstance().addConnectionProvider(name, new Connections(source));
    return new Clockwork(QuartzSettings.together(name, station), clock, System::nanoTime);
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
    every(name, Duration.ZERO, period, work);
  }

  /** As {@link #every(String, Duration, Runnable)}, but for the first time not before so long. */
  public void every(String name, Duration first, Duration period, Runnable work) {
    if (period.isNegative() || period.isZero())
      throw new IllegalArgumentException("period of " + name + ": " + period);
    if (works.putIfAbsent(name, new Work(name, work, () -> closed)) != null)
      throw new IllegalArgumentException("a second work named " + name);
    JobDetail job =
        JobBuilder.newJob(WorkJob.class).withIdentity(name).requestRecovery(true).build();
    periods.put(name, period);
    try {
      // Shared, it may be known already, from another station or the last start.
      scheduler.scheduleJob(job, Set.of(trigger(name, first, period)), true);
    } catch (SchedulerException e) {
      throw new IllegalStateException("work " + name + ": " + e.getMessage(), e);
    }
  }

  static Trigger trigger(String name, Duration first, Duration period) {
    return TriggerBuilder.newTrigger()
        .withIdentity(name)
        .startAt(
            DateBuilder.futureDate((int) first.toMillis(), DateBuilder.IntervalUnit.MILLISECOND))
        .withSchedule(
            SimpleScheduleBuilder.simpleSchedule()
                .withIntervalInMilliseconds(period.toMillis())
                .repeatForever()
                // After a sleep at once, and then period by period: a work of the night on a
                // machine that sleeps at night would else never run.
                .withMisfireHandlingInstructionNowWithExistingCount())
        .build();
  }

  /** Lets the works run. */
  public void start() {
    try {
      scheduler.start();
      watch.scheduleWithFixedDelay(
          this::lookAtTheClock, WATCH.toMillis(), WATCH.toMillis(), TimeUnit.MILLISECONDS);
    } catch (SchedulerException e) {
      throw new IllegalStateException("the scheduler doesn't start: " + e.getMessage(), e);
    }
  }

  /** Begins every work's periods anew where the clock was set back since the last look. */
  synchronized void lookAtTheClock() {
    Instant now = clock.instant();
    long nanos = nanoTime.getAsLong();
    Duration passed = Duration.ofNanos(nanos - lastNanos);
    boolean setBack = now.isBefore(lastSeen.plus(passed).minus(JUMP));
    // One that stands still is set back at every look: said once.
    if (setBack && !wasSetBack)
      LOG.warn(
          "the clock was set back by some {} s; every work begins its periods anew",
          Duration.between(now, lastSeen.plus(passed)).toSeconds());
    wasSetBack = setBack;
    lastSeen = now;
    lastNanos = nanos;
    if (!setBack || closed) return;
    periods.forEach(
        (name, period) -> {
          try {
            scheduler.rescheduleJob(
                TriggerKey.triggerKey(name), trigger(name, Duration.ZERO, period));
          } catch (SchedulerException e) {
            LOG.error("work {} can't be begun anew: {}", name, e.getMessage());
          }
        });
  }

  private static Thread watcher(Runnable look) {
    Thread thread = new Thread(look, "clock-watch");
    thread.setDaemon(true);
    return thread;
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

  /** As {@link #wake}, but not before so long; where a stop comes first, never. */
  public void wakeAfter(String name, Duration delay) {
    if (closed) return;
    try {
      watch.schedule(() -> wake(name), delay.toMillis() + 1, TimeUnit.MILLISECONDS);
    } catch (RejectedExecutionException e) {
      LOG.debug("work {} isn't woken: the program stops", name);
    }
  }

  private Work work(String name) {
    Work work = works.get(name);
    if (work == null) throw new IllegalArgumentException("no work named " + name);
    return work;
  }

  /** True as soon as works are to end: a long one asks between its steps. */
  public boolean isStopping() {
    return closed;
  }

  /** Lets running works end, for 3 s at most; those that still run then are interrupted. */
  @Override
  public void close() {
    if (closed) return;
    closed = true;
    watch.shutdownNow();
    long until = System.nanoTime() + STOP_WITHIN.toNanos();
    try {
      scheduler.standby();
      boolean ended = true;
      for (Work work : works.values()) ended &= work.endBefore(until);
      if (ended) shutDown();
      else scheduler.shutdown(false);
    } catch (SchedulerException e) {
      LOG.warn("the scheduler doesn't stop cleanly: {}", e.getMessage());
    }
  }

  // After a work the scheduler still puts down in its store that it is done. That is waited for,
  // but not for ever: a database that is gone never takes it.
  private void shutDown() {
    Thread waiting =
        new Thread(
            () -> {
              try {
                scheduler.shutdown(true);
              } catch (SchedulerException e) {
                LOG.warn("the scheduler doesn't stop cleanly: {}", e.getMessage());
              }
            },
            "scheduler-end");
    waiting.setDaemon(true);
    waiting.start();
    try {
      waiting.join(STOP_WITHIN.toMillis());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    if (waiting.isAlive()) LOG.warn("the scheduler's store doesn't take the end of its last works");
  }
}
