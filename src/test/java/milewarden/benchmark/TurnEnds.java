package milewarden.benchmark;

import java.time.Instant;
import java.util.List;
import java.util.Locale;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.PassMeasurement;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.matching.Shapes;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;

/**
 * What turning round on a mark without stopping does to a way between two turns: the inner two of
 * four ways to and fro over a straight course, at speeds that put the turns anywhere between two
 * fixes. The argument is the number of seeds.
 */
public final class TurnEnds {
  private static final int WAYS = 4;
  private static final double COURSE_M = 400;

  private double late;
  private double off;
  private double ends;
  private double backtrack;
  private double error;
  private int turns;
  private int ways;

  private TurnEnds() {}

  public static void main(String[] args) {
    int seeds = args.length > 0 ? Integer.parseInt(args[0]) : 300;
    for (double mps : new double[] {1.4, 3})
      for (double sigmaM : new double[] {0, 3}) {
        TurnEnds of = new TurnEnds();
        // Speeds a fifth apart at most.
        for (int seed = 1; seed <= seeds; seed++)
          of.add(mps * (1 + 0.2 * seed / seeds), sigmaM, seed);
        System.out.printf("from %.1f m/s, noise of %.0f m: %s%n", mps, sigmaM, of);
      }
  }

  private void add(double mps, double sigmaM, long seed) {
    ReferenceCourse course = Shapes.straight(COURSE_M);
    Walk walk = Walk.of(course).withGait(mps < 2 ? Gait.WALK : Gait.RUN, mps).withLaps(WAYS);
    Receiver receiver =
        sigmaM > 0 ? Receiver.PERFECT.withNoise(sigmaM, 20, sigmaM / 10) : Receiver.PERFECT;
    Track track = TrackSimulator.simulate(walk, receiver, Sky.CLEAR, seed).track();
    List<PassMeasurement> passes = Measurer.measure(track, course, MeasureOptions.NONE).passes();
    if (passes.size() != WAYS) return;
    for (int i = 1; i < WAYS; i++) {
      Instant found = passes.get(i).startedAt().orElseThrow();
      double by = (found.toEpochMilli() - track.timesMs()[0]) / 1000.0 - i * COURSE_M / mps;
      late += by;
      off += Math.abs(by);
      turns++;
    }
    for (PassMeasurement way : passes.subList(1, WAYS - 1)) {
      ends += way.ladder().endsM();
      backtrack += way.ladder().backtrackM();
      error += way.distances().trackM() - way.distances().horizontalReferenceM();
      ways++;
    }
  }

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%d turns found %.2f s late, %.2f s off in the mean; of %d ways ends %.2f m, backtrack %.2f"
            + " m, track error %.2f m",
        turns,
        late / turns,
        off / turns,
        ways,
        ends / ways,
        backtrack / ways,
        error / ways);
  }
}
