package milewarden.review;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.report.CourseWords;
import milewarden.verdict.Policy;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Dry runs that are under way or done, one after the other: each can be left and found again by its
 * number until the program ends or ten more were begun. Safe for many threads.
 */
public final class Trials {
  private static final Logger LOG = LoggerFactory.getLogger(Trials.class);
  private static final int KEPT = 10;

  private final DryRun dryRun;
  private final List<Trial> kept = new ArrayList<>();
  private final ExecutorService worker =
      Executors.newSingleThreadExecutor(
          work -> {
            Thread thread = new Thread(work, "dry-run");
            thread.setDaemon(true);
            return thread;
          });
  private int begun;

  public Trials(DryRun dryRun) {
    this.dryRun = dryRun;
  }

  /**
   * How far a dry run is.
   *
   * @param step what it does
   * @param done runs or models that are through this step
   * @param of so many in all; 0 where it waits for another
   * @param found empty while it is under way
   * @param failed true where it broke off; the log says why
   */
  public record Trial(
      int number,
      Change change,
      DryRun.Step step,
      int done,
      int of,
      Optional<Forecast> found,
      boolean failed) {
    /** True where nothing more comes. */
    public boolean over() {
      return found.isPresent() || failed;
    }
  }

  /** What is tried. */
  public sealed interface Change {
    /**
     * Another policy.
     *
     * @param pasted text that it was read from; empty where it came from single fields
     */
    record OfPolicy(Policy policy, String pasted) implements Change {
      @Override
      public <T> T fold(
          Function<OfPolicy, T> policy, Function<OfCourse, T> course, Supplier<T> engine) {
        return policy.apply(this);
      }
    }

    /** A version of a course, or a new course. */
    record OfCourse(ReferenceCourse version, String pasted) implements Change {
      @Override
      public <T> T fold(
          Function<OfPolicy, T> policy, Function<OfCourse, T> course, Supplier<T> engine) {
        return course.apply(this);
      }
    }

    /** The engine of this program, against the judgements as they are stored. */
    record OfEngine() implements Change {
      @Override
      public <T> T fold(
          Function<OfPolicy, T> policy, Function<OfCourse, T> course, Supplier<T> engine) {
        return engine.get();
      }
    }

    <T> T fold(Function<OfPolicy, T> policy, Function<OfCourse, T> course, Supplier<T> engine);
  }

  /**
   * What became of the wish to try a course file.
   *
   * @param number of the dry run; empty where the file is none
   * @param refusal why; empty text where it was begun
   */
  public record Begun(OptionalInt number, String refusal) {}

  /** Begins a dry run of a course file, unless it can't be read. */
  public Begun beginCourse(String text) {
    return CourseFile.read(text.getBytes(StandardCharsets.UTF_8))
        .fold(
            good -> new Begun(OptionalInt.of(begin(new Change.OfCourse(good.course(), text))), ""),
            bad -> new Begun(OptionalInt.empty(), CourseWords.of(bad.issues().get(0)).sentence()));
  }

  /** Begins a dry run, and gives its number. */
  public synchronized int begin(Change change) {
    int number = ++begun;
    kept.add(new Trial(number, change, DryRun.Step.JUDGING_MODELS, 0, 0, Optional.empty(), false));
    if (kept.size() > KEPT) kept.remove(0);
    worker.execute(() -> run(number, change));
    return number;
  }

  private void run(int number, Change change) {
    DryRun.Progress progress =
        (step, done, of) -> replace(number, t -> at(t, step, done, of, Optional.empty(), false));
    try {
      Forecast found =
          change.fold(
              p -> dryRun.policy(p.policy(), progress),
              c -> dryRun.course(c.version(), progress),
              () -> dryRun.engine(progress));
      replace(number, t -> at(t, t.step(), t.done(), t.of(), Optional.of(found), false));
    } catch (RuntimeException e) {
      LOG.error("dry run {} broke off", number, e);
      replace(number, t -> at(t, t.step(), t.done(), t.of(), Optional.empty(), true));
    }
  }

  private static Trial at(
      Trial t, DryRun.Step step, int done, int of, Optional<Forecast> found, boolean failed) {
    return new Trial(t.number(), t.change(), step, done, of, found, failed);
  }

  private synchronized void replace(int number, UnaryOperator<Trial> change) {
    kept.replaceAll(t -> t.number() == number ? change.apply(t) : t);
    notifyAll();
  }

  /** Empty where it was never begun, or so long ago that it is not kept. */
  public synchronized Optional<Trial> find(int number) {
    return kept.stream().filter(t -> t.number() == number).findFirst();
  }

  /** The trial, once it is over or this much time has gone. */
  public synchronized Optional<Trial> wait(int number, Duration most) {
    long end = System.nanoTime() + most.toNanos();
    try {
      while (find(number).filter(t -> !t.over()).isPresent()) {
        long left = (end - System.nanoTime()) / 1_000_000;
        if (left <= 0) break;
        wait(left);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    return find(number);
  }

  /** All that are kept, the newest first. */
  public synchronized List<Trial> all() {
    List<Trial> all = new ArrayList<>(kept);
    java.util.Collections.reverse(all);
    return all;
  }
}
