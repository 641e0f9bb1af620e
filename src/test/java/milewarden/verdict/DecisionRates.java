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
    SplittableRandom random = new SplittableRandom(seed);
    Integer[] called = {0, 0, 0};
    Integer[] found = {0, 0, 0};
    int byMean = 0;
    for (int run = 0; run < n; run++) {
      List<Look> looks = compare(history(s, random)).looks();
      count(looks, l -> called(l.outcome()), called);
      count(looks, l -> l.estimate().p() < l.alpha(), found);
      if (looks.stream().anyMatch(DecisionRates::calledByMean)) byMean++;
    }
    return new Calls(n, List.of(called), List.of(found), byMean);
  }

  private static void count(List<Look> looks, Predicate<Look> test, Integer[] at) {
    for (Look l : looks)
      if (test.test(l)) {
        at[l.number() - 1]++;
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
    return new Comparing(AFTER, BEFORE, Against.ANCHOR, history, Policy.defaults(), at).compare();
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
   */
  public record Order(boolean shuffled, Duration within, Duration between) {
    public static Order any(Duration apart) {
      return new Order(true, apart, apart);
    }
  }

  /**
   * The later release's files arrive one by one and are judged at each arrival, and when a look has
   * waited for long enough; looks are kept as the store keeps them.
   *
   * @param called how often the state, once all had come, called a change
   * @param ever how often it called one at any moment
   */
  public record Arrival(Rate called, Rate ever) {}

  /** Files that come in this order. */
  public static Arrival arriving(Setting s, Order order, long seed, int n) {
    SplittableRandom random = new SplittableRandom(seed);
    int last = 0;
    int ever = 0;
    for (int run = 0; run < n; run++) {
      List<PassEvidence> all = new ArrayList<>(history(s, random).passes());
      int first = all.size() * BASELINE / (BASELINE + CANDIDATE);
      Mailbox box = new Mailbox(all.subList(0, first));
      List<PassEvidence> coming = new ArrayList<>(all.subList(first, all.size()));
      if (order.shuffled()) Collections.shuffle(coming, new Random(random.nextLong()));
      for (int i = 0; i < coming.size(); i++) {
        boolean same = i > 0 && coming.get(i).session().equals(coming.get(i - 1).session());
        box.takeIn(coming.get(i), same ? order.within() : order.between());
      }
      box.waitOut();
      if (box.now) last++;
      if (box.ever) ever++;
    }
    return new Arrival(new Rate(last / (double) n, n), new Rate(ever / (double) n, n));
  }

  /** What is there of one comparison, and what was said of it so far. */
  private static final class Mailbox {
    private final List<PassEvidence> here;
    private final Map<String, Instant> came = new HashMap<>();
    private List<Look> looks = List.of();
    private Optional<Instant> waits = Optional.empty();
    private Instant at = NOW;
    private boolean now;
    private boolean ever;

    Mailbox(List<PassEvidence> baseline) {
      here = new ArrayList<>(baseline);
    }

    void takeIn(PassEvidence p, Duration after) {
      Instant next = at.plus(after);
      if (waits.isPresent() && waits.get().isBefore(next)) waitOut();
      at = next;
      here.add(p);
      came.put(p.session(), at);
      judge();
    }

    void waitOut() {
      while (waits.isPresent()) {
        at = waits.get();
        judge();
      }
    }

    private void judge() {
      Arrivals arrivals = new Arrivals(came, Set.of(), false);
      Comparison c = compare(history(here, looks).withArrivals(arrivals), at);
      looks = c.looks();
      waits = c.lookWaitsUntil();
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
