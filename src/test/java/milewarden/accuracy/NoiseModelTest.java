package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import milewarden.course.ReferenceCourse;
import milewarden.matching.Shapes;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import org.junit.jupiter.api.Test;

/** Noise that the simulator put in comes out again: sigma, how long it lasts, what it adds. */
final class NoiseModelTest {
  private static final int SEEDS = 12;

  private static List<PassMeasurement> passes(ReferenceCourse course, Receiver receiver) {
    List<PassMeasurement> out = new ArrayList<>();
    for (long seed = 1; seed <= SEEDS; seed++)
      out.add(
          Made.only(
              TrackSimulator.simulate(Walk.of(course), receiver, Sky.CLEAR, seed).track(),
              course,
              MeasureOptions.NONE));
    return out;
  }

  private static double mean(
      List<PassMeasurement> p, java.util.function.ToDoubleFunction<PassMeasurement> f) {
    return p.stream().mapToDouble(f).average().orElseThrow();
  }

  @Test
  void sigmaAndCorrelationTimeComeBack() {
    List<PassMeasurement> p = passes(Shapes.straight(4000), Receiver.PERFECT.withNoise(3, 20, 0));
    // 4000 m at 1.4 m/s are 70 independent errors a run, 12 runs: sigma to 3.5 %, three times that.
    assertThat(mean(p, x -> x.offset().robustSigmaM())).isCloseTo(3, within(0.35));
    // No closed form for a fit by decay; a quarter is what it is used for.
    assertThat(mean(p, x -> x.offset().correlationTimeS().orElseThrow()))
        .isCloseTo(20.0, within(5.0));
  }

  @Test
  void whatNoiseAddsIsPredictedForLastingAndForFreshNoise() {
    for (Receiver r :
        List.of(
            Receiver.PERFECT.withNoise(3, 20, 0),
            Receiver.PERFECT.withNoise(0, 1, 1),
            Receiver.PERFECT.withNoise(3, 10, 0.5).withInterval(2))) {
      List<PassMeasurement> p = passes(Shapes.straight(4000), r);
      double observed = mean(p, x -> x.ladder().weaveM() + x.ladder().backtrackM());
      double predicted = mean(p, PassMeasurement::predictedInflationM);
      assertThat(predicted).as(r.toString()).isCloseTo(observed, within(0.2 * observed));
      assertThat(p.stream().filter(x -> x.noise().plainNoise()).count())
          .as("runs whose wander is plain noise, %s", r)
          .isGreaterThanOrEqualTo(SEEDS - 3);
    }
  }

  @Test
  void wanderThatIsNoNoiseIsNotCalledNoise() {
    // A saw of 2 m to either side every 4 fixes: its own lags explain it, longer ones do not.
    ReferenceCourse course = Made.open(new double[] {0, 0}, new double[] {0, 1500});
    Made t = new Made();
    for (int i = 0; i <= 1000; i++) t.fix(i, i % 8 < 4 ? 2 : -2, 1.5 * i);
    PassMeasurement p = Made.only(t.track(), course, MeasureOptions.NONE);
    assertThat(p.noise().plainNoise()).isFalse();
  }
}
