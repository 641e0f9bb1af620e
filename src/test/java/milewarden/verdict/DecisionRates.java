package milewarden.verdict;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.function.Predicate;
import milewarden.accuracy.Errors;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.device.FirmwareRelease;
import milewarden.verdict.Comparison.Against;
import milewarden.verdict.Comparison.Outcome;
import milewarden.verdict.comparing.Comparing;
import milewarden.verdict.comparing.Gathered;

/**
 * How often the judge is right by chance: invented histories with a known truth, judged by the code
 * that judges real ones. The quick form stands in the tests, the full one in a command.
 */
public final class DecisionRates {
  static final String BEFORE = "1.0";
  static final String AFTER = "1.1";
  // A device that reads 2 % long: around 0 the size of the error would seldom grow, and calls would
  // be held back.
  private static final double BIAS = 2;
  static final int BASELINE = 8;
  static final int CANDIDATE = 12;
  private static final Instant NOW = Campaign.at(Campaign.FIRST.plusDays(400));
  private static final List<Integer> LOOKS =
      Policy.defaults().looks().stream().map(Policy.LookPlan::sessions).toList();
  private static final Duration QUIET = Duration.ofMinutes(Policy.defaults().lookQuietMinutes());
  private static final List<Condition> PLACES =
      List.of(
          Campaign.LOOP,
          Campaign.SWING,
          Campaign.condition("harbour-loop", "v1", Carriage.HAND),
          Campaign.condition("harbour-loop", "v1", Carriage.POCKET));

  private DecisionRates() {}

  /**
   * How sessions come about; all in percent of the reference, with a spread between sessions of
   * about 1: twice the material change, so that no call is held back for being small.
   *
   * @param conditions in every outing, 1 to 4
   * @param units in every outing
   * @param sky what an outing's conditions share, standard deviation
   * @param own what each condition of an outing has to itself
   * @param pass what each pass adds; two passes of each unit and condition, one in each direction
   * @param shift of the later release in all conditions
   * @param shiftOfFirst of the later release in the first condition, beside
   * @param noise factor of the later release on sky and own
   * @param control true where a control unit shares the sky
   */
  public record Setting(
      int conditions,
      int units,
      double sky,
      double own,
      double pass,
      double shift,
      double shiftOfFirst,
      double noise,
      boolean control) {
    public static final Setting PLAIN = new Setting(1, 1, 1, 0, 0, 0, 0, 1, false);

    public Setting shifted(double by) {
      return new Setting(conditions, units, sky, own, pass, by, shiftOfFirst, noise, control);
    }

    public Setting firstShifted(double by) {
      return new Setting(conditions, units, sky, own, pass, shift, by, noise, control);
    }

    public Setting noisier(double factor) {
      return new Setting(conditions, units, sky, own, pass, shift, shiftOfFirst, factor, control);
    }
  }

  /** Share of replications; {@code n} of them. */
  public record Rate(double share, int n) {
    /** Standard error of the share, were {@code of} the truth. */
    public double error(double of) {
      return Math.sqrt(of * (1 - of) / n);
    }

    @Override
    public String toString() {
      return String.format(
          java.util.Locale.ROOT, "%.2f %% (+-%.2f)", 100 * share, 196 * error(share));
    }
  }

  /**
   * What the looks of invented comparisons did.
   *
   * @param calledAt comparisons whose first call was at look 1, 2, 3, in this order
   * @param foundAt comparisons whose t test was first below its alpha at look 1, 2, 3
   * @param byMean comparisons that were ever called for their mean
   */
  public record Calls(int n, List<Integer> calledAt, List<Integer> foundAt, int byMean) {
    /** Called by this look. */
    public Rate called(int look) {
      return rate(calledAt, look);
    }

    /** Found by the t test by this look. */
    public Rate found(int look) {
      return rate(foundAt, look);
    }

    public Rate mean() {
      return new Rate(byMean / (double) n, n);
    }

    private Rate rate(List<Integer> at, int look) {
      int sum = 0;
      for (int i = 0; i < look; i++) sum += at.get(i);
      return new Rate(sum / (double) n, n);
    }
  }

  /** Judges so many invented comparisons. */
  public static Calls calls(Setting s, long seed, int n) {
    // Called at each look, found at each look, called for the mean.
    double[] counts =
        Replications.counts(
            seed,
            n,
            7,
            (random, sum) -> {
              List<Look> looks = compare(history(s, random)).looks();
              count(looks, l -> called(l.outcome()), sum, 0);
              count(looks, l -> l.estimate().p() < l.alpha(), sum, 3);
              if (looks.stream().anyMatch(DecisionRates::calledByMean)) sum[6]++;
            });
    return new Calls(n, counts(counts, 0), counts(counts, 3), (int) counts[6]);
  }

  private static List<Integer> counts(double[] all, int from) {
    return List.of((int) all[from], (int) all[from + 1], (int) all[from + 2]);
  }

  private static void count(List<Look> looks, Predicate<Look> test, double[] sum, int from) {
    for (Look l : looks)
      if (test.test(l)) {
        sum[from + l.number() - 1]++;
        return;
      }
  }

  /** True where the look called a change of the mean. */
  public static boolean calledByMean(Look l) {
    return called(l.outcome())
        && l.because() != Comparison.Because.SPREAD_GREW
        && l.because() != Comparison.Because.SPREAD_SHRANK;
  }

  static boolean called(Outcome outcome) {
    return outcome == Outcome.WORSE || outcome == Outcome.BETTER || outcome == Outcome.CHANGED;
  }

  static Comparison compare(ModelHistory history) {
    return compare(history, NOW);
  }

  private static Comparison compare(ModelHistory history, Instant at) {
    return new Comparing(
            AFTER, BEFORE, Against.ANCHOR, new Gathered(history, Policy.defaults()), at)
        .compare();
  }

  /** Two releases, 8 sessions and then 12. */
  public static ModelHistory history(Setting s, SplittableRandom random) {
    List<PassEvidence> passes = new ArrayList<>();
    for (int day = 0; day < BASELINE + CANDIDATE; day++) session(s, day, random, passes);
    return history(passes, List.of());
  }

  static ModelHistory history(List<PassEvidence> passes, List<Look> looks) {
    return new ModelHistory(
        "Alder",
        List.of(release(BEFORE, 0), release(AFTER, 40)),
        passes,
        List.of(),
        looks,
        List.of(),
        Optional.empty());
  }

  private static ModelHistory.Release release(String version, int day) {
    LocalDate date = Campaign.FIRST.plusDays(day);
    return new ModelHistory.Release(
        new FirmwareRelease(version, date, false), Optional.of(Campaign.at(date)));
  }

  private static void session(Setting s, int day, SplittableRandom r, List<PassEvidence> passes) {
    boolean after = day >= BASELINE;
    double noise = after ? s.noise() : 1;
    double sky = s.sky() * noise * r.nextGaussian();
    for (int k = 0; k < s.conditions(); k++) {
      double error =
          BIAS
              + sky
              + (s.own() == 0 ? 0 : s.own() * noise * r.nextGaussian())
              + (after ? s.shift() + (k == 0 ? s.shiftOfFirst() : 0) : 0);
      for (int u = 0; u < s.units(); u++)
        if (s.pass() == 0) passes.add(pass(passes.size(), day, PLACES.get(k), u, 0, error, false));
        else
          for (int way = 0; way < 2; way++)
            passes.add(
                pass(
                    passes.size(),
                    day,
                    PLACES.get(k),
                    u,
                    way,
                    error + s.pass() * r.nextGaussian(),
                    false));
    }
    if (s.control())
      passes.add(pass(passes.size(), day, PLACES.get(0), 9, 0, sky + 0.3 * r.nextGaussian(), true));
  }

  static PassEvidence pass(
      int id, int day, Condition in, int unit, int way, double error, boolean control) {
    LocalDate date = Campaign.FIRST.plusDays(day);
    return new PassEvidence(
        id,
        "day-" + day,
        Campaign.at(date),
        date,
        control ? "Elder" : "Alder",
        "unit-" + unit,
        control,
        control ? "0.9" : day < BASELINE ? BEFORE : AFTER,
        in,
        Direction.values()[way],
        new Errors(
            OptionalDouble.of(error),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            Optional.empty()),
        2000,
        0,
        Double.NaN,
        Optional.empty());
  }

  /**
   * In what order the later release's files come.
   *
   * @param shuffled in any order; else in order of their outings
   * @param within the time between two files of one outing, and where they are shuffled of any
   * @param between the time from the last file of an outing to the first of the next
   * @param always judged at each arrival and each time that a look has waited; else, for speed,
   *     only where a look is due, or has new evidence, and nothing came for the quiet time: a test
   *     holds one against the other
   */
  public record Order(boolean shuffled, Duration within, Duration between, boolean always) {
    public static Order any(Duration apart) {
      return new Order(true, apart, apart, false);
    }

    public static Order outings(Duration within, Duration between) {
      return new Order(false, within, between, false);
    }

    public Order judgedAlways() {
      return new Order(shuffled, within, between, true);
    }
  }

  /**
   * The later release's files arrive one by one and are judged meanwhile; looks are kept as the
   * store keeps them.
   *
   * @param called how often the state, once all had come, called a change
   * @param ever how often it called one at any moment
   */
  public record Arrival(Rate called, Rate ever) {}

  /** Files that come in this order. */
  public static Arrival arriving(Setting s, Order order, long seed, int n) {
    double[] counts =
        Replications.counts(seed, n, 2, (random, sum) -> arriving(s, order, random, sum));
    return new Arrival(new Rate(counts[0] / n, n), new Rate(counts[1] / n, n));
  }

  private static void arriving(Setting s, Order order, SplittableRandom random, double[] sum) {
    List<PassEvidence> all = history(s, random).passes();
    int first = all.size() * BASELINE / (BASELINE + CANDIDATE);
    Mailbox box = new Mailbox(all.subList(0, first), order.always());
    List<PassEvidence> coming = new ArrayList<>(all.subList(first, all.size()));
    if (order.shuffled()) Collections.shuffle(coming, new Random(random.nextLong()));
    for (int i = 0; i < coming.size(); i++) {
      boolean same = i > 0 && coming.get(i).session().equals(coming.get(i - 1).session());
      box.takeIn(coming.get(i), same ? order.within() : order.between());
    }
    box.close();
    if (box.now) sum[0]++;
    if (box.ever) sum[1]++;
  }

  /** What is there of one comparison, and what was said of it so far. */
  private static final class Mailbox {
    private final List<PassEvidence> here;
    private final Map<String, Instant> came = new HashMap<>();
    private final boolean always;
    private List<Look> looks = List.of();
    private Optional<Instant> waits = Optional.empty();
    private Instant at = NOW;
    private boolean news;
    private boolean now;
    private boolean ever;

    Mailbox(List<PassEvidence> baseline, boolean always) {
      this.here = new ArrayList<>(baseline);
      this.always = always;
    }

    void takeIn(PassEvidence p, Duration after) {
      Instant next = at.plus(after);
      if (waits.isPresent() && waits.get().isBefore(next)) waitOut();
      at = next;
      here.add(p);
      boolean begun = came.put(p.session(), at) == null;
      news |= begun ? LOOKS.contains(came.size()) : came.size() >= LOOKS.get(0);
      if (always) judge();
      else waits = Optional.of(at.plus(QUIET));
    }

    /** Until the looks that wait have been taken. */
    private void waitOut() {
      while (waits.isPresent()) {
        at = waits.get();
        if (always || news) judge();
        else waits = Optional.empty();
      }
    }

    void close() {
      news = true;
      waitOut();
    }

    private void judge() {
      Arrivals arrivals = new Arrivals(came, Set.of(), false);
      Comparison c = compare(history(here, looks).withArrivals(arrivals), at);
      looks = c.looks();
      waits = c.lookWaitsUntil();
      news = waits.isPresent();
      now = newestCalled(c);
      ever |= now;
    }
  }

  /** True where a look that decides calls a change. */
  private static boolean newestCalled(Comparison c) {
    boolean called = false;
    for (int number = 1; number <= 3; number++) {
      int wanted = number;
      called |=
          c.looks().stream()
              .filter(l -> l.number() == wanted && !l.beside())
              .reduce((a, b) -> b)
              .filter(l -> called(l.outcome()))
              .isPresent();
    }
    return called;
  }
}
