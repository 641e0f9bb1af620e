package milewarden.report.page.overview;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.report.DamageWords;
import milewarden.report.Digits;
import milewarden.report.Status;
import milewarden.report.page.DueEntry;
import milewarden.report.page.IntakePage;
import milewarden.report.page.Strip;
import milewarden.report.page.course.CourseDoubts;
import milewarden.report.page.model.ModelPage;
import milewarden.verdict.DueItem;
import milewarden.verdict.Findings;
import milewarden.verdict.Policy;
import milewarden.verdict.judging.ManyModels;

/**
 * What needs the tester today.
 *
 * @param sentence the answer
 * @param files that wait or were refused, in words; empty text where none
 * @param progress of the files that are being measured
 * @param steps what a first run needs; empty once there was one
 * @param models one row each, those that need something first
 * @param due the first things to do
 * @param left models that the order leaves out
 * @param unread of models whose judgement is damaged, a sentence; empty text where none
 * @param courses what control units say of courses whose stated length they doubt
 */
public record OverviewPage(
    String sentence,
    String files,
    Optional<IntakePage.Progress> progress,
    List<Step> steps,
    List<ModelRow> models,
    List<DueEntry> due,
    String caption,
    List<String> courses,
    OverviewOrder order,
    int left,
    String unread) {
  public OverviewPage {
    courses = List.copyOf(courses);
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
   * @param together whether a change that was called stands among all models; else empty text
   */
  public record ModelRow(
      String name,
      String link,
      String firmware,
      Status tested,
      String mean,
      Optional<Strip> strip,
      String nextRun,
      String missing,
      List<ModelPage.Purpose> purposes,
      String trend,
      String trendWords,
      Status due,
      String together) {
    public ModelRow {
      purposes = List.copyOf(purposes);
    }
  }

  /** The page of a store in which nothing has been measured. */
  public static OverviewPage ofBeginning(boolean hasCourse, int received, int waiting) {
    return new OverviewPage(
        hasCourse || received > 0
            ? "Nothing is measured yet; the next step is below."
            : "Nothing is measured yet. Three steps lead to a first error.",
        "",
        Optional.empty(),
        List.of(courseStep(hasCourse), dropStep(received), tagStep(received, waiting)),
        List.of(),
        List.of(),
        "",
        List.of(),
        OverviewOrder.USUAL,
        0,
        "");
  }

  /**
   * The page of a store with results.
   *
   * @param models judged ones by id, in order of name
   * @param controls ids of models all of whose units are controls
   * @param due open items, most pressing first
   * @param waiting files that lack a tag
   * @param offCourse recordings that no course fits yet
   * @param refused files that could not be taken
   * @param order which models, and in which order
   */
  public static OverviewPage of(
      Map<Long, ? extends Findings> models,
      Set<Long> controls,
      List<DueItem> items,
      List<DueEntry> due,
      int waiting,
      int offCourse,
      int refused,
      OverviewOrder order,
      Policy policy,
      Digits digits) {
    double scale =
        Strip.scaleOf(
            models.values().stream()
                .flatMap(j -> ModelPage.newestTested(j.releases()).stream())
                .flatMap(r -> r.pooled().stream())
                .toList());
    ManyModels<Long> together = ManyModels.of(models, policy);
    List<ModelRow> shown =
        order.of(
            models.entrySet().stream()
                .map(
                    e ->
                        new OverviewOrder.Ranked(
                            controls.contains(e.getKey())
                                ? OverviewRow.ofControl(e.getKey(), e.getValue())
                                : OverviewRow.of(
                                    e.getKey(),
                                    e.getValue(),
                                    items,
                                    together,
                                    policy,
                                    scale,
                                    digits),
                            e.getValue()))
                .toList());
    return new OverviewPage(
        DueSentence.of(items),
        files(waiting, offCourse, refused, digits),
        Optional.empty(),
        List.of(),
        shown,
        due,
        "Mean error of the newest tested release with its 95 % interval, on one scale from "
            + digits.percent(-scale)
            + " to "
            + digits.percent(scale)
            + "; ticks are the limits of the purposes."
            + caption(together, policy, digits),
        CourseDoubts.of(models.values(), digits),
        order,
        models.size() - shown.size(),
        "");
  }

  /** The same while files are being measured. */
  public OverviewPage during(Optional<IntakePage.Progress> measuring) {
    return new OverviewPage(
        sentence, files, measuring, steps, models, due, caption, courses, order, left, unread);
  }

  /**
   * The same where some models' judgements are damaged.
   *
   * @param stopped models that can't be judged
   */
  public OverviewPage without(List<String> damaged, List<String> stopped) {
    String missing = damaged.isEmpty() ? "" : DamageWords.judgements(String.join(", ", damaged));
    String late = stopped.isEmpty() ? "" : DamageWords.notJudged(String.join(", ", stopped));
    return damaged.isEmpty() && stopped.isEmpty()
        ? this
        : new OverviewPage(
            sentence,
            files,
            progress,
            steps,
            models,
            due,
            caption,
            courses,
            order,
            left,
            (missing + " " + late).strip());
  }

  private static String caption(ManyModels<Long> together, Policy policy, Digits digits) {
    if (together.tests() < 2) return "";
    return " Of the changes that stand, at most "
        + digits.number(100 * policy.falseDiscovery(), 0)
        + " % are expected to be chance.";
  }

  private static String files(int waiting, int offCourse, int refused, Digits digits) {
    List<String> parts = new ArrayList<>();
    if (waiting > 0) parts.add(wait(waiting, digits) + " for tags");
    if (offCourse > 0) parts.add(wait(offCourse, digits) + " for a course");
    if (refused > 0)
      parts.add(digits.counted(refused, "file") + (refused == 1 ? " was" : " were") + " refused");
    return String.join(", ", parts);
  }

  private static String wait(int files, Digits digits) {
    return digits.counted(files, "file") + (files == 1 ? " waits" : " wait");
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
