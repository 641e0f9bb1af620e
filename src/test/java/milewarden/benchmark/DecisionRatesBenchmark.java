package milewarden.benchmark;

import milewarden.verdict.DecisionRates;
import milewarden.verdict.DecisionRates.Setting;

/** The rates that the decisions promise, by simulation through the code that decides. */
public final class DecisionRatesBenchmark {
  private DecisionRatesBenchmark() {}

  /** With the number of replications; 100,000 where none is given. */
  public static void main(String[] args) {
    int n = args.length > 0 ? Integer.parseInt(args[0]) : 100_000;
    Setting plain = Setting.PLAIN;
    say("false calls, one condition", DecisionRates.rate(plain, 1, n, DecisionRates.calledBy(3)));
    say("  of the t test alone", DecisionRates.rate(plain, 1, n, DecisionRates.foundBy(3)));
    Setting outing = new Setting(2, 2, 0.8, 0.4, 0.3, 0, 0, 1, false);
    say(
        "false calls, two units and two conditions in one outing",
        DecisionRates.rate(outing, 2, n, DecisionRates.calledBy(3)));
    Setting apart = new Setting(2, 1, 0, 1, 0, 0, 0, 1, false);
    say(
        "false calls, two conditions that share nothing",
        DecisionRates.rate(apart, 3, n, DecisionRates.calledBy(3)));
    Setting four = new Setting(4, 1, 0.5, 0.8, 0, 0, 0, 1, false);
    say("false calls, four conditions", DecisionRates.rate(four, 4, n, DecisionRates.calledBy(3)));
    Setting control = new Setting(1, 1, 1, 0, 0, 0, 0, 1, true);
    say(
        "false calls, with a control",
        DecisionRates.rate(control, 5, n, DecisionRates.calledBy(3)));
    for (int shift = 1; shift <= 3; shift++)
      for (int look = 1; look <= 3; look++) {
        Setting moved = plain.shifted(shift);
        say(
            "a shift of " + shift + " SD by look " + look + ": called",
            DecisionRates.rate(moved, 10 + shift, n, DecisionRates.calledBy(look)));
        say(
            "  t test below alpha",
            DecisionRates.rate(moved, 10 + shift, n, DecisionRates.foundBy(look)));
      }
    for (double factor : new double[] {1 / 3.0, 0.5, 2, 3})
      say(
          "spread " + factor + " times, mean unchanged: called worse or better by the mean",
          DecisionRates.rate(
              plain.noisier(factor),
              20,
              n,
              c -> c.looks().stream().anyMatch(l -> DecisionRates.calledByMean(l))));
    DecisionRates.Arrival any = DecisionRates.inAnyOrder(plain, 6, Math.max(1, n / 10));
    say("files in any order, once all have come", any.called());
    say("files in any order, at any moment", any.ever());
  }

  private static void say(String what, Object rate) {
    System.out.printf(java.util.Locale.ROOT, "%-75s %s%n", what, rate);
  }
}
