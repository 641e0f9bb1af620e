package milewarden.benchmark;

import java.time.Duration;
import milewarden.verdict.DecisionRates;
import milewarden.verdict.DecisionRates.Calls;
import milewarden.verdict.DecisionRates.Order;
import milewarden.verdict.DecisionRates.Setting;

/** The rates that the decisions promise, by simulation through the code that decides. */
public final class DecisionRatesBenchmark {
  private DecisionRatesBenchmark() {}

  /** With the number of replications; 100,000 where none is given. */
  public static void main(String[] args) {
    int n = args.length > 0 ? Integer.parseInt(args[0]) : 100_000;
    Setting plain = Setting.PLAIN;
    System.out.println(n + " replications each; in brackets 1.96 standard errors");
    Calls one = DecisionRates.calls(plain, 1, n);
    say("false calls, one condition", one.called(3));
    say("  of the mean alone", one.mean());
    say("  t test below alpha, before Welch's condition", one.found(3));
    say(
        "false calls, two units and two conditions in one outing",
        DecisionRates.calls(new Setting(2, 2, 0.8, 0.6, 0.3, 0, 0, 1, false), 2, n).called(3));
    say(
        "false calls, two conditions that share nothing",
        DecisionRates.calls(new Setting(2, 1, 0, 1, 0, 0, 0, 1, false), 3, n).called(3));
    say(
        "false calls, four conditions",
        DecisionRates.calls(new Setting(4, 1, 0.5, 0.9, 0, 0, 0, 1, false), 4, n).called(3));
    say(
        "false calls, with a control unit",
        DecisionRates.calls(new Setting(1, 1, 1, 1, 0, 0, 0, 1, true), 5, n).called(3));
    for (int shift = 1; shift <= 3; shift++) {
      Calls moved = DecisionRates.calls(plain.shifted(shift), 10 + shift, n);
      for (int look = 1; look <= 3; look++) {
        say("a shift of " + shift + " SD is called by look " + look, moved.called(look));
        say("  t test below alpha", moved.found(look));
      }
    }
    Calls somewhere =
        DecisionRates.calls(new Setting(2, 1, 0.7, 0.7, 0, 0, 0, 1, false).firstShifted(2), 15, n);
    say("a shift of 2 SD in one of two conditions is called", somewhere.called(3));
    for (double factor : new double[] {1 / 3.0, 0.5, 2, 3}) {
      Calls noisier = DecisionRates.calls(plain.noisier(factor), 20, n);
      String what = String.format(java.util.Locale.ROOT, "spread times %.2f, ", factor);
      say(what + "same mean: called for the mean", noisier.mean());
      say(what + "called at all", noisier.called(3));
    }
    Setting four = new Setting(1, 2, 0.8, 0, 0.6, 0, 0, 1, false);
    Duration minutes = Duration.ofMinutes(1);
    Duration days = Duration.ofDays(2);
    Order outings = new Order(false, Duration.ofMinutes(10), days);
    arrivals("files in any order, days apart", plain, Order.any(days), n);
    arrivals("files in any order, minutes apart", plain, Order.any(minutes), n);
    arrivals("four files an outing, one after the other, outings days apart", four, outings, n);
    arrivals("four files an outing, any order, minutes apart", four, Order.any(minutes), n);
    arrivals("four files an outing, any order, days apart", four, Order.any(days), n);
  }

  private static void arrivals(String what, Setting s, Order order, int n) {
    DecisionRates.Arrival any = DecisionRates.arriving(s, order, 6, n);
    say(what + ": called once all have come", any.called());
    say(what + ": called at any moment", any.ever());
  }

  private static void say(String what, Object rate) {
    System.out.printf(java.util.Locale.ROOT, "%-70s %s%n", what, rate);
  }
}
