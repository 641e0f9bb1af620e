package milewarden.report.page.outing;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import milewarden.report.Words;
import milewarden.report.page.Option;
import milewarden.units.LengthUnit;
import milewarden.verdict.PassEvidence.Exclusion;

/** What the lists of a field sheet offer, and what a tester must mind. */
public record SheetChoices() {
  /** Units in which a display shows a distance. */
  public List<String> units() {
    return List.of(
        LengthUnit.KILOMETRE.symbol(),
        LengthUnit.MILE.symbol(),
        LengthUnit.METRE.symbol(),
        LengthUnit.YARD.symbol(),
        LengthUnit.FOOT.symbol(),
        LengthUnit.NAUTICAL_MILE.symbol());
  }

  /** Reasons that are the walker's, for all units of a pass. */
  public List<Option> passReasons() {
    return reasons(false);
  }

  /** Every reason, for one unit. */
  public List<Option> unitReasons() {
    return reasons(true);
  }

  private static List<Option> reasons(boolean all) {
    List<Option> options = new ArrayList<>();
    for (Exclusion.Reason reason : Exclusion.Reason.values())
      if (all || !reason.deviceFault())
        options.add(
            new Option(reason.name().toLowerCase(Locale.ROOT).replace('_', '-'), words(reason)));
    return options;
  }

  private static String words(Exclusion.Reason reason) {
    return switch (reason) {
      case WRONG_COURSE -> "no: wrong way or course";
      case WRONG_SETTINGS -> "no: wrong settings";
      case INTERRUPTED -> "no: interrupted";
      case DEVICE_FAULT -> "no: another fault of the device";
      case NO_FIX -> "no: it found no position";
      case CRASH -> "no: it crashed or started anew";
      case LOST_FILE -> "no: its file was lost";
    };
  }

  /** What happens on a pass and is worth a word. */
  public List<String> happenings() {
    return List.of(
        "wrong turn",
        "stepped aside",
        "stood still",
        "mark missed",
        "crossed a road",
        "signal gone");
  }

  /** What a tester must mind out there. */
  public List<String> cautions() {
    List<String> cautions = new ArrayList<>();
    cautions.add("Read no display while you move on a road: stand still beside it first.");
    // The last two are about the figures, not about the outing.
    cautions.addAll(Words.CAUTIONS.subList(0, 4));
    return cautions;
  }
}
