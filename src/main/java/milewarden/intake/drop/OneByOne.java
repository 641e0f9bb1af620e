package milewarden.intake.drop;

import java.util.List;
import java.util.concurrent.ForkJoinTask;
import java.util.function.Function;

/**
 * Works things off on all processors, handed out one by one. A parallel stream would cut them into
 * a few runs beforehand, and whoever has the last one keeps the others waiting.
 */
public final class OneByOne {
  private OneByOne() {}

  /**
   * What comes of each, in their order. Called on a thread of a pool it takes the others of that
   * pool along, else those of the common one.
   *
   * @param work lets nothing but unchecked exceptions out; the first of them comes out here
   */
  public static <T, R> List<R> map(List<T> things, Function<T, R> work) {
    List<ForkJoinTask<R>> tasks =
        things.stream().map(thing -> ForkJoinTask.adapt(() -> work.apply(thing))).toList();
    ForkJoinTask.invokeAll(tasks);
    return tasks.stream().map(ForkJoinTask::join).toList();
  }
}
