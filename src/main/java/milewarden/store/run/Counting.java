package milewarden.store.run;

/** What counts of a run: one place for the joins of every statement that asks for it. */
final class Counting {
  /**
   * From runs {@code r} to their results {@code res}, through the measurement {@code ms} by the
   * engine {@code :engine} against the course's version in force, {@code cv}.
   */
  // By the run, of which there are a few results, and not by the engine, of which there are all:
  // joined to nothing, its name is no way into an index, which SQLite would otherwise take.
  static final String RESULTS =
      """
        join measurement ms
          on ms.run_id = r.id and ms.engine_version || '' = :engine and ms.course_slug = r.course_slug
        join course_version cv
          on cv.slug = ms.course_slug and cv.version = ms.course_version and cv.in_force
        join result res on res.measurement_id = ms.id
      """;

  private Counting() {}
}
