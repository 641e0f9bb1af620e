package milewarden.benchmark;

import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeSet;
import milewarden.course.Direction;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.verdict.Condition;
import milewarden.verdict.place.Blame;
import milewarden.verdict.place.DeviceDayCourse.What;
import milewarden.verdict.place.DifferenceStrip;
import milewarden.verdict.place.PlacedPass;

/**
 * Rates of what is said about places: how often the strip's band covers the truth, and how often
 * device, day and course are blamed, rightly or wrongly. Invented passes: each session has its sky,
 * each device its noise, each place its own.
 */
public final class PlaceRates {
  private static final Condition LOOP =
      new Condition("loop", "v1", SkyView.OPEN, Carriage.FIXED, Gait.RUN, "");
  private static final int BINS = 100;

  private PlaceRates() {}

  public static void main(String[] args) {
    for (int[] n : new int[][] {{3, 8}, {6, 8}, {12, 8}})
      System.out.println(
          "band of " + n[0] + " against " + n[1] + ": " + coverage(2_000, n[0], n[1], 1));
    for (Change change : Change.values())
      for (int n : new int[] {3, 6, 12})
        System.out.println(change + ", " + n + " sessions: " + said(2_000, n, change, 2));
  }

  /** What happens between baseline and candidate. */
  public enum Change {
    NOTHING,
    /** The model over-reads by one point more, everywhere. */
    FIRMWARE,
    /** All devices do. */
    SKY,
    /** All devices gain 3 m on the stretch from 300 to 350 m. */
    ROADWORKS,
    /** The model alone gains them. */
    BEND_CUT,
    /** All devices over-read by five points more in the second session. */
    BAD_DAY
  }

  /** Share of bins whose 95 % band holds the true difference, 0. */
  public static double coverage(int trials, int candidate, int baseline, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    double held = 0;
    for (int t = 0; t < trials / 100; t++) {
      DifferenceStrip strip =
          DifferenceStrip.of(
                  own(passes(random, candidate, Change.NOTHING, "1.1")),
                  own(passes(random, baseline, Change.NOTHING, "1.0")))
              .orElseThrow();
      held += strip.bins().size() - strip.standingOut();
    }
    return held / (trials / 100 * (double) BINS);
  }

  /** Share of trials in which each thing is said, once or more. */
  public static Map<What, Double> said(int trials, int candidate, Change change, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Map<What, Double> shares = new EnumMap<>(What.class);
    for (int t = 0; t < trials; t++) {
      List<PlacedPass> before = passes(random, 8, Change.NOTHING, "1.0");
      List<PlacedPass> after = passes(random, candidate, change, "1.1");
      new TreeSet<>(
              Blame.of(after, before, 0.25).orElseThrow().findings().stream()
                  .map(f -> f.what())
                  .toList())
          .forEach(w -> shares.merge(w, 1.0 / trials, Double::sum));
    }
    return shares;
  }

  private static List<PlacedPass> own(List<PlacedPass> passes) {
    return passes.stream().filter(p -> !p.control()).toList();
  }

  /** Per session: sky of SD 0.3 points on all devices, 0.2 of a device's own, 0.1 m per bin. */
  static List<PlacedPass> passes(SplittableRandom random, int sessions, Change change, String f) {
    List<PlacedPass> all = new ArrayList<>();
    for (int s = 0; s < sessions; s++) {
      double sky = 0.3 * random.nextGaussian();
      if (change == Change.SKY) sky += 1;
      if (change == Change.BAD_DAY && s == 1) sky += 5;
      for (boolean control : new boolean[] {false, true}) {
        double level = 1 + sky + 0.2 * random.nextGaussian();
        if (change == Change.FIRMWARE && !control) level += 1;
        List<Double> excess = new ArrayList<>();
        for (int bin = 0; bin < BINS; bin++) {
          double x = level / 100 * PlacedPass.BIN_M + 0.1 * random.nextGaussian();
          boolean there = bin >= 30 && bin < 35;
          if (there && (change == Change.ROADWORKS || change == Change.BEND_CUT && !control))
            x += 0.6;
          excess.add(x);
        }
        all.add(
            new PlacedPass(
                f + "-" + s,
                Instant.EPOCH.plusSeconds(86_400L * s),
                control ? "Elder" : "Alder",
                control ? "c" : "a",
                control,
                control ? "0.9" : f,
                LOOP,
                Direction.FORWARD,
                1,
                10.0 * BINS,
                excess));
      }
    }
    return all;
  }
}
