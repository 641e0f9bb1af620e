package milewarden.report.page.model;

import java.util.ArrayList;
import java.util.List;
import milewarden.report.Digits;
import milewarden.verdict.PassEvidence.Exclusion.Reason;
import milewarden.verdict.ReleaseJudgement;
import milewarden.verdict.Reliability;

/** How often a device did its work at all. */
final class ReliabilityWords {
  private ReliabilityWords() {}

  /** To stand after a release's basis; empty where no run failed. */
  static String of(ReleaseJudgement release, Digits digits) {
    if (release.reliability().isEmpty()) return "";
    Reliability r = release.reliability().get();
    if (r.failed() == 0) return "";
    List<String> kinds = new ArrayList<>();
    r.ordered().forEach((reason, n) -> kinds.add(n + " " + kind(reason)));
    return ", "
        + r.failed()
        + " of "
        + digits.counted(r.runs(), "run")
        + " failed ("
        + String.join(", ", kinds)
        + ")";
  }

  private static String kind(Reason reason) {
    return switch (reason) {
      case NO_FIX -> "without a fix";
      case CRASH -> "by a crash";
      case LOST_FILE -> "with its file lost";
      case DEVICE_FAULT -> "by another fault";
      case WRONG_COURSE, WRONG_SETTINGS, INTERRUPTED ->
          throw new IllegalArgumentException("no fault of a device: " + reason);
    };
  }
}
