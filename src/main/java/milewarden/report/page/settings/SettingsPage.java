package milewarden.report.page.settings;

import java.util.ArrayList;
import java.util.List;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.page.Fact;
import milewarden.verdict.Policy;

/**
 * What are the rules? Read-only: they stand in the configuration; how pages are read is chosen.
 *
 * @param done an answer to the form that was just sent; empty text where none
 */
public record SettingsPage(
    List<Fact> purposes,
    List<Fact> rules,
    List<Fact> looks,
    List<Fact> alarms,
    List<Fact> health,
    List<Fact> program,
    ReadingChoice reading,
    String done) {
  public SettingsPage {
    purposes = List.copyOf(purposes);
    rules = List.copyOf(rules);
    looks = List.copyOf(looks);
    alarms = List.copyOf(alarms);
    health = List.copyOf(health);
    program = List.copyOf(program);
  }

  /**
   * The policy and what the program says of itself.
   *
   * @param alarms how often nothing was taken for something, in words
   * @param health the queues, how long and how old
   */
  public static SettingsPage of(
      Policy p,
      List<Fact> alarms,
      List<Fact> health,
      List<Fact> program,
      ReadingChoice reading,
      String done,
      Digits digits) {
    List<Fact> rules = new ArrayList<>();
    rules.add(
        new Fact(
            "material change",
            digits.pointsSize(p.materialChangePercent()),
            "the smallest change that matters"));
    rules.add(
        new Fact(
            "a look waits for",
            digits.counted(p.lookQuietMinutes(), "minute"),
            "without anything more of its sessions coming in"));
    rules.add(
        new Fact(
            "insufficient below", digits.sessions(p.insufficientSessions()), "nothing is decided"));
    rules.add(
        new Fact(
            "provisional below",
            digits.sessions(p.provisionalSessions()),
            "or "
                + digits.counted(p.provisionalDays(), "day")
                + ", or "
                + digits.counted(p.provisionalUnits(), "unit")));
    rules.add(
        new Fact("baseline", digits.sessions(p.baselineSessions()), "fewer are said to be thin"));
    rules.add(
        new Fact(
            "smoothing",
            digits.number(100 * p.smoothingAlpha(), 1) + " %",
            "of releases that smooth positions as before are called otherwise, at most"));
    rules.add(
        new Fact(
            "verdict grows stale",
            digits.counted(p.verdictMonths(), "month"),
            "or after " + digits.counted(p.staleAfterDays(), "day") + " of retest due"));
    return new SettingsPage(
        p.purposes().stream()
            .map(
                each ->
                    new Fact(
                        JudgedWords.purpose(each.code()),
                        digits.bothSides(each.meanLimitPercent()),
                        "next run " + digits.bothSides(each.nextRunLimitPercent())))
            .toList(),
        rules,
        p.looks().stream()
            .map(
                l ->
                    new Fact(
                        "at " + digits.sessions(l.sessions()),
                        "alpha " + digits.probability(l.alpha()),
                        "equivalence at " + digits.number(100 * l.equivalenceLevel(), 0) + " %"))
            .toList(),
        alarms,
        health,
        program,
        reading,
        done);
  }
}
