package milewarden.report.pass;

import java.util.ArrayList;
import java.util.List;
import milewarden.accuracy.RecordingQuality;

/** What was done to a recording to measure it, repair by repair; its file stays as it came. */
public final class RepairWords {
  private RepairWords() {}

  /**
   * One repair.
   *
   * @param what what was wrong
   * @param done what was done about it
   */
  public record Row(String what, int count, String done) {}

  /** Every repair, and what was seen and left as it is; those that did not happen are left out. */
  public static List<Row> rows(RecordingQuality q) {
    List<Row> rows = new ArrayList<>();
    for (RecordingQuality.Repair r : q.repairs())
      rows.add(new Row(what(r.kind()), r.count(), done(r.kind())));
    if (q.repeatedPositions() > 0)
      rows.add(new Row("repeated positions", q.repeatedPositions(), "kept; a step of no length"));
    if (q.spikes() > 0)
      rows.add(new Row("spikes", q.spikes(), "kept; they stay in every distance"));
    return rows;
  }

  private static String what(String kind) {
    return switch (kind) {
      case "duplicate-time" -> "fixes with the time of the one before";
      case "backward-time" -> "fixes with an earlier time than the one before";
      case "clock-set-back" -> "times at which the clock was set back";
      case "missing-time" -> "fixes without a time";
      case "distance-began-again" -> "times at which the recorded distance began again";
      default -> kind.replace('-', ' ');
    };
  }

  private static String done(String kind) {
    return switch (kind) {
      case "duplicate-time" -> "kept in the order of the file";
      case "backward-time" ->
          "kept in the order of the file; their time is laid between those of their neighbours";
      case "clock-set-back" -> "the times behind it go on from there";
      case "missing-time" -> "a time is laid between those of their neighbours";
      case "distance-began-again" -> "the distance goes on from where it was";
      case "time-unreadable", "height-unreadable", "value-unreadable" -> "kept without that value";
      default -> "left out while reading";
    };
  }
}
