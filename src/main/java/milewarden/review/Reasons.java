package milewarden.review;

import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.PublishedVerdict.Reason;

/** A reason for replacing a verdict stands in public: it must be so. */
final class Reasons {
  private Reasons() {}

  /** Why the reason can't be right, with what to do; empty where it can. */
  static Optional<String> untrue(PublishedVerdict before, PublishedVerdict now, Reason reason) {
    boolean holds =
        switch (reason) {
          case NEW_FIRMWARE -> !before.firmware().equals(now.firmware());
          case NEW_EVIDENCE -> !evidence(before).equals(evidence(now));
          case REFERENCE_REVISED -> !before.courses().equals(now.courses());
          case METHOD_REVISED ->
              !before.engineVersion().equals(now.engineVersion())
                  || !before.policy().equals(now.policy());
          case ERROR_CORRECTED -> true;
        };
    return holds ? Optional.empty() : Optional.of(sentence(before, reason));
  }

  private static Set<String> evidence(PublishedVerdict v) {
    Set<String> runs = new HashSet<>();
    for (PublishedVerdict.RunUsed r : v.runs())
      runs.add(String.join("/", r.session(), r.unit(), r.sha256()));
    return runs;
  }

  private static String sentence(PublishedVerdict before, Reason reason) {
    String verdict = "Verdict " + before.number();
    return switch (reason) {
      case NEW_FIRMWARE ->
          verdict + " is on firmware " + before.firmware() + " too. Name another reason.";
      case NEW_EVIDENCE -> verdict + " rests on the same runs. Name another reason.";
      case REFERENCE_REVISED ->
          verdict + " rests on the same versions of the courses. Name another reason.";
      case METHOD_REVISED ->
          verdict + " rests on the same engine version and policy. Name another reason.";
      case ERROR_CORRECTED -> verdict + " stands.";
    };
  }
}
