package milewarden.benchmark;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.IntConsumer;
import milewarden.verdict.DecisionRates;
import milewarden.verdict.DecisionRates.Calls;
import milewarden.verdict.DecisionRates.Order;
import milewarden.verdict.DecisionRates.Setting;

/** The rates that the decisions promise, by simulation through the code that decides. */
public final class DecisionRatesBenchmark {
  private static final Duration MINUTE = Duration.ofMinutes(1);
  private static final Duration DAYS = Duration.ofDays(2);

  private DecisionRatesBenchmark() {}

  private static final Setting PLAIN = Setting.PLAIN;

  private static final Map<String, IntConsumer> PARTS = parts();

  /**
   * With the number of replications, 100,000 where none is given, and the parts that are wanted;
   * all of them where none is.
   */
  public static void main(String[] args) {
    int n = args.length > 0 ? Integer.parseInt(args[0]) : 100_000;
    List<String> wanted = List.of(args).subList(Math.min(1, args.length), args.length);
    for (String name : wanted)
      if (!PARTS.containsKey(name))
        throw new IllegalArgumentException(name + " is none of " + PARTS.keySet());
    System.out.println(n + " replications each; in brackets 1.96 standard errors");
    PARTS.forEach(
        (name, part) -> {
          if (wanted.isEmpty() || wanted.contains(name)) part.accept(n);
        });
  }

  private static Map<String, IntConsumer> parts() {
    Map<String, IntConsumer> all = new LinkedHashMap<>();
    all.put("one", DecisionRatesBenchmark::one);
    unchanged(
        all,
        "outing",
        "two units and two conditions in one outing",
        new Setting(2, 2, 0.8, 0.6, 0.3, 0, 0, 1, false),
        2);
    unchanged(
        all,
        "two-conditions",
        "two conditions that share nothing",
        new Setting(2, 1, 0, 1, 0, 0, 0, 1, false),
        3);
    unchanged(
        all,
        "four-conditions",
        "four conditions",
        new Setting(4, 1, 0.5, 0.9, 0, 0, 0, 1, false),
        4);
    unchanged(all, "control", "with a control unit", new Setting(1, 1, 1, 1, 0, 0, 0, 1, true), 5);
    for (int shift = 1; shift <= 3; shift++) {
      int by = shift;
      all.put("shift-" + shift, n -> shifted(by, n));
    }
    all.put("somewhere", DecisionRatesBenchmark::somewhere);
    for (double factor : new double[] {1 / 3.0, 0.5, 2, 3})
      all.put(String.format(Locale.ROOT, "noise-%.1f", factor), n -> noisier(factor, n));
    Setting four = new Setting(1, 2, 0.8, 0, 0.6, 0, 0, 1, false);
    arriving(all, "days", "files in any order, days apart", PLAIN, Order.any(DAYS));
    arriving(all, "minutes", "files in any order, minutes apart", PLAIN, Order.any(MINUTE));
    arriving(
        all,
        "outings",
        "four files an outing, one after the other, outings days apart",
        four,
        Order.outings(Duration.ofMinutes(10), DAYS));
    arriving(
        all,
        "outings-minutes",
        "four files an outing, any order, minutes apart",
        four,
        Order.any(MINUTE));
    arriving(
        all, "outings-days", "four files an outing, any order, days apart", four, Order.any(DAYS));
    return all;
  }

  private static void unchanged(
      Map<String, IntConsumer> all, String name, String what, Setting s, long seed) {
    all.put(name, n -> say("false calls, " + what, DecisionRates.calls(s, seed, n).called(3)));
  }

  private static void one(int n) {
    Calls one = DecisionRates.calls(PLAIN, 1, n);
    say("false calls, one condition", one.called(3));
    say("  of the mean alone", one.mean());
    say("  t test below alpha, before Welch's condition", one.found(3));
  }

  private static void shifted(int shift, int n) {
    Calls moved = DecisionRates.calls(PLAIN.shifted(shift), 10 + shift, n);
    for (int look = 1; look <= 3; look++) {
      say("a shift of " + shift + " SD is called by look " + look, moved.called(look));
      say("  t test below alpha", moved.found(look));
    }
  }

  private static void somewhere(int n) {
    Setting two = new Setting(2, 1, 0.7, 0.7, 0, 0, 0, 1, false).firstShifted(2);
    say(
        "a shift of 2 SD in one of two conditions is called",
        DecisionRates.calls(two, 15, n).called(3));
  }

  private static void noisier(double factor, int n) {
    Calls noisier = DecisionRates.calls(PLAIN.noisier(factor), 20, n);
    String what = String.format(Locale.ROOT, "spread times %.2f, ", factor);
    say(what + "same mean: called for the mean", noisier.mean());
    say(what + "called at all", noisier.called(3));
  }

  private static void arriving(
      Map<String, IntConsumer> all, String name, String what, Setting s, Order order) {
    all.put(name, n -> arrivals(what, s, order, n));
  }

  private static void arrivals(String what, Setting s, Order order, int n) {
    DecisionRates.Arrival any = DecisionRates.arriving(s, order, 6, n);
    say(what + ": called once all have come", any.called());
    say(what + ": called at any moment", any.ever());
  }

  private static void say(String what, Object rate) {
    System.out.printf(Locale.ROOT, "%-70s %s%n", what, rate);
  }
}
