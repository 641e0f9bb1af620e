package milewarden.report.trial;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.page.Fact;
import milewarden.verdict.replay.AaRate;
import milewarden.verdict.replay.AaReplay;

/** The measured rate of false alarms in lines. */
public final class AlarmLines {
  private AlarmLines() {}

  /** A rate and when it was measured. */
  public record Measured(Instant at, AaRate rate) {}

  /** A line of the whole, then one for each release that was split. */
  public static List<Fact> of(Optional<Measured> measured, Digits digits) {
    if (measured.isEmpty() || measured.get().rate().splits() == 0)
      return List.of(
          new Fact(
              "not measured yet",
              "",
              "a release with as many sessions as two looks need is split"));
    AaRate rate = measured.get().rate();
    List<Fact> lines = new ArrayList<>();
    lines.add(
        new Fact(
            "all releases",
            share(rate.measured(), digits),
            "of "
                + digits.counted(rate.splits(), "split")
                + "; promised at most "
                + share(rate.promised(), digits)
                + ", by chance within "
                + share(2 * rate.monteCarloError(), digits)
                + (rate.holds() ? ": it holds" : ": it does not hold")
                + "; measured "
                + digits.date(measured.get().at())));
    for (AaReplay.Period p : rate.periods())
      lines.add(
          new Fact(
              p.model() + " " + p.firmware(),
              share((double) p.fired() / p.splits(), digits),
              digits.sessions(p.sessions())
                  + ", "
                  + digits.counted(p.looks(), "look")
                  + " of "
                  + digits.counted(p.splits(), "split")
                  + "; promised "
                  + share(p.promised(), digits)));
    return lines;
  }

  private static String share(double of, Digits digits) {
    return digits.number(100 * of, 1) + "\u00a0%";
  }
}
