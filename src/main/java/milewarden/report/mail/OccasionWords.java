package milewarden.report.mail;

import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.report.mail.DueMail.Occasion;
import milewarden.report.mail.DueMail.Why;

/** Why a message comes: its subject, its first and its last words. */
final class OccasionWords {
  private OccasionWords() {}

  static String subject(Occasion occasion, String title, int items, Digits digits) {
    String more = items == 1 ? "" : " (and " + (items - 1) + " more)";
    return switch (occasion.why()) {
      case BECAME_DUE -> Words.capital(title) + more;
      case STILL_DUE -> "Still due: " + title + more;
      case DIGEST ->
          "Digest"
              + occasion.day().map(d -> " of " + digits.date(d)).orElse("")
              + ": "
              + title
              + more;
    };
  }

  static Optional<String> opening(Occasion occasion, int items, Digits digits) {
    return switch (occasion.why()) {
      case BECAME_DUE -> Optional.empty();
      case STILL_DUE -> Optional.of("Put off until today, and still due.");
      case DIGEST ->
          Optional.of(
              "Since your last digest "
                  + digits.counted(items, "thing")
                  + " became due, the most pressing first."
                  + closed(occasion.closedMeanwhile(), digits));
    };
  }

  private static String closed(int items, Digits digits) {
    if (items == 0) return "";
    return " "
        + Words.capital(digits.counted(items, "other"))
        + (items == 1 ? " became due and is" : " became due and are")
        + " closed again already.";
  }

  static String foot(Why why) {
    String reason =
        switch (why) {
          case BECAME_DUE -> "because something became due; each cause is told once.";
          case STILL_DUE -> "because somebody asked to be told again, today.";
          case DIGEST -> "once a day, where something became due; each cause is told once.";
        };
    return "Sent by Milewarden " + reason + " " + Words.SCOPE;
  }
}
