package milewarden.report;

import milewarden.verdict.Comparison;
import milewarden.verdict.Condition;
import milewarden.verdict.Conformity;
import milewarden.verdict.DueItem;
import milewarden.verdict.Look;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.Source;
import milewarden.verdict.VerdictState;

/** Names of what the judge says. */
public final class JudgedWords {
  private JudgedWords() {}

  public static Status of(Comparison.Outcome outcome) {
    return switch (outcome) {
      case WORSE -> Status.broken("worse");
      case BETTER -> Status.holds("better");
      case EQUIVALENT -> Status.holds("equivalent");
      case CHANGED -> Status.watch("changed");
      case NOT_SETTLED -> Status.unknown("not settled");
    };
  }

  /** Why an outcome is what it is, to stand after 'because'. */
  public static String of(Comparison.Because because) {
    return switch (because) {
      case MEAN_ERROR_GREW -> "the mean error grew by more than the material change";
      case MEAN_ERROR_SHRANK -> "the mean error shrank by more than the material change";
      case GREW_IN_A_CONDITION -> "the error grew in one condition";
      case SHRANK_IN_A_CONDITION -> "the error shrank in one condition";
      case A_PURPOSE_FAILS -> "it fails for a purpose that it was good enough for";
      case A_PURPOSE_NO_LONGER_FAILS -> "it no longer fails for a purpose";
      case SPREAD_GREW -> "the errors scatter more from session to session";
      case SPREAD_SHRANK -> "the errors scatter less from session to session";
      case WITHIN_MATERIAL_CHANGE ->
          "any difference of the mean errors lies within the material change";
      case SMALL_BUT_REAL -> "the mean errors differ, but within the material change";
      case DIFFERENCE_IS_REAL -> "the mean errors differ, neither better nor worse";
      case INTERVAL_TOO_WIDE -> "the interval holds zero and reaches beyond the material change";
      case TOO_FEW_SESSIONS -> "the first look has not been reached";
      case STILL_COMING_IN -> "more files of the sessions of the first look may still come in";
      case BASELINE_TOO_THIN -> "the baseline has too few sessions";
      case NO_COMMON_CONDITION -> "no condition was tested with both releases";
      case NO_DEGREES_OF_FREEDOM -> "there are more conditions than sessions can tell apart";
      case UNITS_CANNOT_BE_TOLD_APART ->
          "the units differ too, and how far units differ is not known";
      case TESTS_DISAGREE -> "the spreads differ and the two tests disagree";
    };
  }

  /** A sentence of what a reader must know of a comparison. */
  public static String of(Comparison.Caution caution) {
    return switch (caution) {
      case THIN_BASELINE -> "The baseline has fewer sessions than the policy asks for.";
      case UNITS_DIFFER -> "The releases were run on different units; their variance is carried.";
      case UNIT_VARIANCE_UNKNOWN ->
          "The releases were run on different units whose variance is not known.";
      case DISPLAY_TOO_COARSE ->
          "The display's step is coarser than a quarter of the material change.";
      case UNEQUAL_SPREAD -> "The spreads differ, so Welch's test stands beside and must agree.";
      case RE_ANCHORED ->
          "The releases were run on different units; sessions in which both were carried tell by how"
              + " much these differ, and that is taken out.";
      case LEFT_OUT_FOR_DIRECTION ->
          "Sessions that were run in a direction which the other release lacks are left out.";
      case ONE_DIRECTION -> "Some sessions were run in one direction only.";
      case CONTROL_USED -> "The control unit's error is taken out as a covariate.";
      case SESSIONS_WITHOUT_CONTROL ->
          "Sessions without a control unit are left out of the adjusted difference.";
      case RE_LOOK ->
          "Runs that came late, were newly excluded or were computed anew opened a re-look. Where"
              + " sessions came late, the look that was taken decides and the re-look stands beside"
              + " it; where its own runs changed, the re-look takes its place.";
      case CLOSED -> "The last look was taken; later sessions feed the monitoring.";
    };
  }

  /** What sets a look off from an earlier one of its number; empty where nothing does. */
  public static String again(Look look) {
    if (look.beside()) return ", as late sessions would have made it; it decides nothing";
    return look.reLook() ? ", re-look" : "";
  }

  public static Status of(Conformity.Decision decision) {
    return switch (decision) {
      case PASS -> Status.holds("pass");
      case CONDITIONAL_PASS -> Status.watch("conditional pass");
      case CONDITIONAL_FAIL -> Status.watch("conditional fail");
      case FAIL -> Status.broken("fail");
      case NOT_RESOLVABLE -> Status.unknown("not resolvable");
      case INSUFFICIENT_EVIDENCE -> Status.unknown("insufficient evidence");
    };
  }

  public static Status of(VerdictState state) {
    return switch (state) {
      case CURRENT -> Status.holds("current");
      case RETEST_DUE -> Status.watch("retest due");
      case UNDER_REVIEW -> Status.broken("under review");
      case STALE -> Status.watch("stale");
      case SUPERSEDED -> Status.unknown("superseded");
      case WITHDRAWN -> Status.unknown("withdrawn");
    };
  }

  /** What a verdict's state means, as a sentence. */
  public static String sentence(VerdictState state, Policy policy, Digits digits) {
    return switch (state) {
      case CURRENT -> "Nothing has come up since that asks for another look.";
      case RETEST_DUE -> "Something asks for more sessions; the due list says what.";
      case UNDER_REVIEW -> "An alert is open: what was said may no longer hold.";
      case STALE ->
          "It is older than "
              + digits.counted(policy.verdictMonths(), "month")
              + ", or a retest has been due for "
              + digits.counted(policy.staleAfterDays(), "day")
              + ".";
      case SUPERSEDED -> "A later verdict took its place.";
      case WITHDRAWN -> "It was taken back, and stays readable.";
    };
  }

  public static Status of(DueItem.Severity severity) {
    return switch (severity) {
      case VERDICT_WRONG -> Status.broken("verdict no longer holds");
      case REGRESSION -> Status.broken("regression");
      case STALE -> Status.watch("stale");
      case HOUSEKEEPING -> Status.unknown("housekeeping");
    };
  }

  public static String of(DueItem.Kind kind) {
    return switch (kind) {
      case RETEST_DUE -> "retest due";
      case VERDICT_UPDATE_DUE -> "verdict update due";
    };
  }

  /** The distance that a figure rests on. */
  public static String of(Source source) {
    return switch (source) {
      case SHOWN -> "the distance shown";
      case RECORDED -> "the distance recorded in the file";
      case TRACK -> "the length of the track";
    };
  }

  public static String of(Comparison.Against against) {
    return switch (against) {
      case ANCHOR -> "against the anchor";
      case PREVIOUS -> "against the release before";
    };
  }

  public static String of(PublishedVerdict.Reason reason) {
    return switch (reason) {
      case NEW_FIRMWARE -> "new firmware";
      case NEW_EVIDENCE -> "new evidence";
      case REFERENCE_REVISED -> "reference revised";
      case METHOD_REVISED -> "method revised";
      case ERROR_CORRECTED -> "error corrected";
    };
  }

  /** A condition in words: course, carriage, gait and, where there is one, the settings profile. */
  public static String of(Condition condition) {
    String words =
        condition.course()
            + ", "
            + Words.of(condition.gait())
            + ", "
            + Words.of(condition.carriage());
    return condition.settings().isEmpty()
        ? words
        : words + ", " + SettingsWords.profile(condition.settings());
  }

  /** The purpose of this code, as the tester wrote it. */
  public static String purpose(String code) {
    return code.replace('-', ' ');
  }
}
