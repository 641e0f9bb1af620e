package milewarden.report.page.model;

import java.util.List;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.pass.OriginWords;
import milewarden.verdict.Comparison;
import milewarden.verdict.place.DeviceDayCourse;

/** Device, day or course, by the errors as they are judged. */
public record ToldPart(List<String> told, String caption, List<OriginPart.EffectRow> effects) {
  public ToldPart {
    told = List.copyOf(told);
    effects = List.copyOf(effects);
  }

  static ToldPart of(DeviceDayCourse told, Comparison c, Digits digits) {
    return new ToldPart(
        OriginWords.told(told, digits),
        "Median polish of the change since the baseline over devices, sessions and courses, in points"
            + " of the length, the control units' middle at 0, from "
            + JudgedWords.of(c.source().source())
            + " (of control units whose display was not read, from the file); "
            + digits.sessions(told.candidateSessions())
            + " against "
            + told.baselineSessions()
            + " with a control unit; what no effect explains scatters by "
            + digits.number(told.spread(), 2)
            + ". What is said also stands a t test on whole sessions at 1 %.",
        OriginPart.effects(told, digits));
  }
}
