package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.units.LengthRange;
import org.junit.jupiter.api.Test;

final class PooledErrorTest {
  private static final double MILE_M = 1609.344;

  private static Distances shown(double referenceMi, double lowMi, double highMi) {
    return new Distances(
        referenceMi * MILE_M,
        referenceMi * MILE_M,
        Double.NaN,
        OptionalDouble.empty(),
        OptionalDouble.of(lowMi * MILE_M),
        Optional.of(new LengthRange(lowMi * MILE_M, highMi * MILE_M)));
  }

  @Test
  void twoReadingsOnAQuarterMileComeToTenPercentTogether() {
    // Common practice, no source: 0.27 and 0.28 mi read on two passes of 0.25 mi are 0.55 for 0.50.
    List<Distances> passes = List.of(shown(0.25, 0.27, 0.27), shown(0.25, 0.28, 0.28));
    PooledError e = PooledError.shown(passes).orElseThrow();
    assertThat(e.passes()).isEqualTo(2);
    assertThat(e.percent().low()).isCloseTo(10, within(1e-9));
    assertThat(e.percent().high()).isCloseTo(10, within(1e-9));
    assertThat(e.referenceM()).isCloseTo(0.5 * MILE_M, within(1e-9));
  }

  @Test
  void aLongPassWeighsAsLongAsItIsUnlikeInTheMeanOfErrors() {
    // 10 % of 1 and 0 % of 9: 1 % together; the mean of both errors is 5 %.
    List<Distances> passes = List.of(shown(1, 1.1, 1.1), shown(9, 9, 9));
    assertThat(PooledError.shown(passes).orElseThrow().percent().middle())
        .isCloseTo(1, within(1e-9));
  }

  @Test
  void intervalsStayIntervalsAndWhatIsMissingIsLeftOut() {
    List<Distances> passes = List.of(shown(1, 0.99, 1.01), shown(1, 1.00, 1.02));
    PooledError e = PooledError.shown(passes).orElseThrow();
    assertThat(e.percent().low()).isCloseTo(-0.5, within(1e-9));
    assertThat(e.percent().high()).isCloseTo(1.5, within(1e-9));
    assertThat(PooledError.recorded(passes)).isEmpty();
    assertThat(PooledError.track(passes)).isEmpty();
    Distances recorded =
        new Distances(
            1010, 1000, 1020, OptionalDouble.of(1030.2), OptionalDouble.empty(), Optional.empty());
    assertThat(PooledError.recorded(List.of(recorded)).orElseThrow().percent().low())
        .isCloseTo(2, within(1e-9));
    // A track can't see the slope: it is held against the level reference.
    assertThat(PooledError.track(List.of(recorded)).orElseThrow().percent().low())
        .isCloseTo(2, within(1e-9));
  }
}
