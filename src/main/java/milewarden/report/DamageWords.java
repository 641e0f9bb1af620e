package milewarden.report;

import java.time.Duration;

/** What can't be read in the store, what is known all the same, and what to do. */
public final class DamageWords {
  private static final String LISTED =
      " milewarden verify, with the server stopped, lists everything that is damaged.";

  private static final String ANEW =
      "Its recordings and results are kept, and within the hour it is judged anew of them; a restart"
          + " does so at once.";

  /** Within this time what {@link #isMadeAnew} is there again. */
  public static final Duration ANEW_WITHIN = Duration.ofHours(1);

  private DamageWords() {}

  /**
   * True where the program makes such a record again by itself.
   *
   * @param record the name of its type
   */
  public static boolean isMadeAnew(String record) {
    return record.equals("ModelJudgement");
  }

  /** On the page of a run whose detail is damaged. */
  public static String run() {
    return "The stored detail of this run can't be read: its ladder, its plan and its charts are"
        + " missing here. Its distances and errors are known, stand below and count. The recording"
        + " is kept: change one of the tags below, and it is measured anew."
        + LISTED;
  }

  /** On the page of a session of which some runs are damaged. */
  public static String tracks(int runs) {
    return (runs == 1
            ? "The stored detail of one run can't be read: its track is missing from the plan."
            : "The stored detail of "
                + runs
                + " runs can't be read: their tracks are missing from the plan.")
        + " Their distances and errors are known and stand in the table; the page of such a run"
        + " says what to do.";
  }

  /**
   * At a due item whose record is damaged.
   *
   * @param open false where it was closed
   */
  public static String due(boolean open) {
    return "The rest of this item can't be read: its numbers, its advice and the results that it"
        + " rests on are missing here."
        + (open
            ? " Its model is judged anew within the hour, or at a restart, and the item is made anew"
                + " with it, if its cause lasts."
            : " It is closed, and nothing rests on it.")
        + LISTED;
  }

  /**
   * Where verdicts are listed.
   *
   * @param verdicts their numbers and models
   */
  public static String verdicts(String verdicts) {
    return "The stored record can't be read of "
        + verdicts
        + ". What was said and when is known; its figures are not. Until they are, its model is not"
        + " judged, and no other verdict on it can be published. Nothing was changed: take the last"
        + " backup that verifies."
        + LISTED;
  }

  /**
   * Where a verdict would be published.
   *
   * @param verdicts numbers and model of those before it that are damaged
   */
  public static String unpublishable(String verdicts) {
    return "Nothing can be published on this model now: the stored record can't be read of "
        + verdicts
        + ", and what it claims is what a new verdict is held against. Nothing was changed: take the"
        + " last backup that verifies."
        + LISTED;
  }

  /**
   * Where an export leaves figures out.
   *
   * @param verdicts their numbers and models
   */
  public static String exported(String verdicts) {
    return "the stored record can't be read of "
        + verdicts
        + ": its row in verdicts.csv has no figures; take the last backup that verifies";
  }

  /**
   * Where courses are listed.
   *
   * @param course its slug
   */
  public static String course(String course) {
    return "The stored line of the course "
        + course
        + " can't be read. Recordings that name it, and those that fit no other course, are kept and"
        + " wait until it can; what fits another is measured by that. Save the course's file in the"
        + " courses' folder anew, or restart the server: it is read from there."
        + LISTED;
  }

  /**
   * Of a recording or a row that belongs to a course.
   *
   * @param course its slug
   */
  public static String waitsForCourse(String course) {
    return "The stored line of the course "
        + course
        + " can't be read now. It is kept and waits, and is taken in by itself as soon as that line"
        + " can be read: save the course's file in the courses' folder anew, or restart the server.";
  }

  /**
   * Of a recording that fits no course.
   *
   * @param courses the slugs of those that can't be read
   */
  public static String mayBeOn(String courses) {
    return "It fits no course that can be read, and may lie on "
        + courses
        + ", whose stored line can't be. It is kept and waits, and is measured by itself as soon as"
        + " that line can be read: save the course's file in the courses' folder anew, or restart"
        + " the server. Where it was run on another course, name that.";
  }

  /** Where an earlier version of a course is damaged. */
  public static String courseVersions(int versions) {
    return (versions == 1 ? "An earlier version" : versions + " earlier versions")
        + " of this course can't be read and "
        + (versions == 1 ? "is" : "are")
        + " left out. What was measured by it is kept."
        + LISTED;
  }

  /**
   * Of models that can't be judged, as a verdict or another record that judging rests on is
   * damaged.
   */
  public static String notJudged(String models) {
    return "Not judged until a stored record can be read that judging rests on: "
        + models
        + ". What is said here stands as it was before; what comes in is measured and kept, and judged"
        + " then. Other models are judged as ever. Take the last backup that verifies."
        + LISTED;
  }

  /**
   * Where it is said who is told.
   *
   * @param addresses whose choice is damaged
   */
  public static String choices(String addresses) {
    return "The stored choice can't be read of "
        + addresses
        + ". Until it is made anew under Settings, Who is told, they are told of everything at once,"
        + " in no quiet hours. Everybody else is told as they chose."
        + LISTED;
  }

  /** On the overview, of models whose judgement is damaged. */
  public static String judgements(String models) {
    return "The stored judgement can't be read of: "
        + models
        + ". Their recordings and results are kept, and within the hour each is judged anew of"
        + " them; so does a restart."
        + LISTED;
  }

  /** On the page of a model whose judgement is damaged. */
  public static String judgement() {
    return "Its figures and charts are missing here: the stored judgement can't be read. "
        + ANEW
        + LISTED;
  }

  /** On the page of a comparison whose judgement is damaged. */
  public static String comparison() {
    return "What was found stands below. How sure it is, its conditions, looks and charts are missing"
        + " here: the stored judgement can't be read. "
        + ANEW
        + LISTED;
  }

  /** Where a verdict was to be drafted on a damaged judgement. */
  public static String draft() {
    return "Nothing was published. The figures that a verdict rests on are missing here: the stored"
        + " judgement can't be read. "
        + ANEW
        + " Draft the verdict then."
        + LISTED;
  }

  /** Where a campaign was to be planned on a damaged judgement. */
  public static String plan() {
    return "Nothing was planned. The spread that a plan begins from is missing here: the stored"
        + " judgement can't be read. "
        + ANEW
        + " Plan then; what was planned before is kept."
        + LISTED;
  }

  /** Where models are held side by side, of those whose judgement is damaged. */
  public static String without(String models) {
    return "Left out, as the stored judgement can't be read: "
        + models
        + ". Within the hour it is made anew.";
  }

  /**
   * Where a page can't be shown without what is damaged.
   *
   * @param record the name of its type
   */
  public static String of(String record) {
    return switch (record) {
      case "ModelJudgement" ->
          "The judgement of a model can't be read. Its recordings and results are kept; within"
              + " the hour, or at a restart, it is judged anew of them.";
      case "ReferenceCourse" ->
          "A version of a course can't be read. Save the course's file in the courses' folder anew,"
              + " or restart the server: it is read from there. Else take the last backup that"
              + " verifies.";
      case "PublishedVerdict" ->
          "The record of a published verdict can't be read. Nothing was changed; take the last"
              + " backup that verifies.";
      case "PassMeasurement", "RecordingQuality" ->
          "The detail of a result can't be read. Its recording is kept: change one of its tags, and"
              + " it is measured anew.";
      default ->
          "A stored record ("
              + record
              + ") can't be read. Everything else is kept; take the last backup that verifies.";
    };
  }

  /** What to do about whatever is damaged. */
  public static String remedy() {
    return LISTED.strip() + " The server's log names it, too.";
  }
}
