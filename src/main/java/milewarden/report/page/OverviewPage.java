package milewarden.report.page;

import java.util.List;
import java.util.Optional;
import milewarden.report.Status;

/**
 * What needs the tester today.
 *
 * @param sentence the answer
 * @param steps what a first run needs; empty once there was one
 * @param models one row each, those that need something first
 * @param due the first things to do
 */
public record OverviewPage(
    String sentence, List<Step> steps, List<ModelRow> models, List<DueLine> due, String caption) {
  public OverviewPage {
    steps = List.copyOf(steps);
    models = List.copyOf(models);
    due = List.copyOf(due);
  }

  /** One of the three steps of a store that has no result yet. */
  public record Step(
      String title, String needs, Status state, String link, String linkWords, boolean done) {}

  /**
   * A model on one line.
   *
   * @param trend the mean error of each release in order, for a line 96 wide and 24 high; empty
   *     below two
   */
  public record ModelRow(
      String name,
      String link,
      String firmware,
      Status tested,
      String mean,
      Optional<Strip> strip,
      String nextRun,
      List<Status> purposes,
      String trend,
      String trendWords,
      Status due) {
    public ModelRow {
      purposes = List.copyOf(purposes);
    }
  }

  /** A due item in one sentence. */
  public record DueLine(Status kind, String sentence, String link, String linkWords) {}

  /** The page of a store in which nothing has been measured. */
  public static OverviewPage ofBeginning(boolean hasCourse, int received, int waiting) {
    return new OverviewPage(
        hasCourse || received > 0
            ? "Nothing is measured yet; the next step is below."
            : "Nothing is measured yet. Three steps lead to a first error.",
        List.of(courseStep(hasCourse), dropStep(received), tagStep(received, waiting)),
        List.of(),
        List.of(),
        "");
  }

  private static Step courseStep(boolean done) {
    return new Step(
        "A reference course",
        "A line whose length you measured yourself, with a wheel, a bicycle or a tape. No course file yet?"
            + " One recording of the line and your measured length make a first one in a minute.",
        done ? Status.holds("there") : Status.unknown("to do"),
        "/courses",
        done ? "See the courses" : "Make a course",
        done);
  }

  private static Step dropStep(int received) {
    boolean done = received > 0;
    return new Step(
        "A drop",
        "A recording of a pass over that course, start mark to finish mark: upload it, or copy it into the inbox folder.",
        done
            ? Status.holds(received == 1 ? "1 file came" : received + " files came")
            : Status.unknown("to do"),
        "/intake",
        done ? "See the files" : "Drop a file",
        done);
  }

  private static Step tagStep(int received, int waiting) {
    boolean open = waiting > 0 || received == 0;
    return new Step(
        "Its tags",
        "Which unit, which firmware, which course, how it was carried, and walked or run. Asked once, for many files together.",
        waiting > 0
            ? Status.watch(waiting == 1 ? "1 file waits" : waiting + " files wait")
            : received > 0 ? Status.holds("nothing asked") : Status.unknown("to do"),
        "/intake",
        "Fill the tags",
        !open);
  }
}
