package milewarden.report;

import java.util.List;
import java.util.Locale;
import milewarden.accuracy.LadderStep;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.course.Method;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.device.Rounding;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/** Names of things and standing sentences, as they are written for people. */
public final class Words {
  /** Shown on field sheets, courses and reports. */
  public static final List<String> CAUTIONS =
      List.of(
          "Watch traffic, water, heat and other people before the display.",
          "Keep to the safe line even if a mark is missed; have a spotter on roads.",
          "Follow local law and the land owner.",
          "A course here is not a certified race course: an accredited measurer and the rules of the"
              + " sport decide that.",
          "Energy and pace figures are estimates, no medical or training advice.",
          "A device judged here is not judged for navigation or safety.");

  /** The limit of every result. */
  public static final String SCOPE = "Results relate only to the items tested.";

  private Words() {}

  public static String of(Carriage carriage) {
    return switch (carriage) {
      case FIXED -> "fixed to the body";
      case HAND -> "in the hand";
      case SWING_LEFT -> "left wrist, arm swinging";
      case SWING_RIGHT -> "right wrist, arm swinging";
      case POCKET -> "in a pocket";
      case PACK -> "in a pack";
      case HANDLEBAR -> "on the handlebar";
    };
  }

  public static String of(Gait gait) {
    return switch (gait) {
      case WALK -> "walking";
      case RUN -> "running";
      case RIDE -> "riding";
    };
  }

  public static String of(Rounding rounding) {
    return switch (rounding) {
      case ROUNDED -> "rounded";
      case TRUNCATED -> "cut off";
      case UNKNOWN -> "rule not known";
    };
  }

  public static String of(Direction direction) {
    return switch (direction) {
      case FORWARD -> "from start to finish";
      case REVERSE -> "from finish to start";
    };
  }

  public static String of(Bounds bounds) {
    return switch (bounds) {
      case MARKS -> "started and stopped on the marks";
      case GATES -> "cut where it passed the marks";
    };
  }

  public static String of(SkyView sky) {
    return switch (sky) {
      case OPEN -> "open sky";
      case PARTLY_OPEN -> "partly open sky";
      case OBSTRUCTED -> "obstructed sky";
    };
  }

  public static String of(Method method) {
    return switch (method) {
      case WHEEL -> "measuring wheel";
      case CALIBRATED_BICYCLE -> "calibrated bicycle";
      case STEEL_TAPE -> "steel tape";
      case SURVEY -> "survey";
      case STANDARD_TRACK -> "standard track";
    };
  }

  /** The label of a column of the field sheet. */
  public static String of(TagName tag) {
    return switch (tag) {
      case STANDING_S -> "standing before the start, seconds";
      case FIX_WAIT_S -> "waited for the fix, seconds";
      case OPERATOR -> "who carried it";
      case SHOWN -> "distance shown";
      case SHOWN_UNIT -> "unit of the distance shown";
      case SHOWN_STEP -> "smallest step of the display";
      case ROUNDING -> "what the display does with further digits";
      case BOUNDS -> "how the pass was begun and ended";
      case EXCLUDED_REASON -> "reason for leaving it out";
      case CLOCK -> "answer on its clock";
      case COLUMNS -> "answer on its columns";
      case SETTINGS_CHECK -> "answer on its settings";
      case START_PROTOCOL -> "start protocol";
      case CARRIAGE -> "how it was carried";
      case GAIT -> "walk, run or ride";
      case CONTROL -> "control unit";
      case ROLE -> "role in its session: test or reference";
      default -> tag.code().replace('_', ' ');
    };
  }

  /** Where a tag came from, after 'from'. */
  public static String of(TagSource source) {
    return switch (source) {
      case EDIT -> "your edit";
      case SHEET -> "the field sheet";
      case SIDECAR -> "the file of tags beside it";
      case FOLDER -> "the folder's name";
      case FILE -> "the recording itself";
      case RECOGNISED -> "the positions";
      case DEFAULT -> "the configured default";
    };
  }

  /** The name of a step of the ladder on charts and tables. */
  public static String of(LadderStep step) {
    return switch (step) {
      case SLOPE -> "slope";
      case ENDS -> "ends";
      case LINE -> "line";
      case BACKTRACK -> "backtrack";
      case WEAVE -> "weave";
      case BEND -> "bend offset";
      case CHORD -> "chord and rest";
      case SOURCE -> "source";
      case INDICATION -> "indication";
    };
  }

  /** What follows a list: {@code a, b and c}. */
  public static String list(List<String> words) {
    int n = words.size();
    if (n < 2) return String.join("", words);
    return String.join(", ", words.subList(0, n - 1)) + " and " + words.get(n - 1);
  }

  public static String capital(String text) {
    return text.isEmpty()
        ? text
        : text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1);
  }

  static String small(String text) {
    boolean acronym = text.length() > 1 && Character.isUpperCase(text.charAt(1));
    return text.isEmpty() || acronym
        ? text
        : text.substring(0, 1).toLowerCase(Locale.ROOT) + text.substring(1);
  }
}
