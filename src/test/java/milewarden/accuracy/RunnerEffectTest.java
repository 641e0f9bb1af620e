package milewarden.accuracy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import milewarden.device.Gait;
import milewarden.units.PercentRange;
import org.junit.jupiter.api.Test;

final class RunnerEffectTest {
  private static RunnerEffect of(double percent) {
    return new RunnerEffect(PercentRange.exactly(percent));
  }

  // Arithmetic: 300 s / 1.10 = 272.7 s, which is 4:33; 300 s / 1.01 = 297.0 s, 4:57.
  @Test
  void aDeviceThatReadsLongShowsAFasterPace() {
    assertThat(of(10).shownPace(300).low()).isCloseTo(272.727, within(0.001));
    assertThat(of(1).shownPace(300).low()).isCloseTo(297.030, within(0.001));
  }

  // Arithmetic: 42.195 km at 300 s/km is 12,658.5 s; 1 % of it is 126.6 s, 2:07.
  @Test
  void whoHoldsATargetPaceByADisplayThatReadsLongIsLate() {
    double target = 42.195 * 300;
    assertThat(of(1).finishTime(target).high() - target).isCloseTo(126.585, within(0.001));
  }

  // World Athletics: 42,195 m; at +1 % that is 42,616.95 m.
  @Test
  void aMarathonIsShownLongerByTheError() {
    assertThat(of(1).shownMarathon().lowM()).isCloseTo(42_616.95, within(1e-6));
  }

  // Arithmetic: 10,000 m / 1.01 = 9,900.99 m, 99 m short.
  @Test
  void whoStopsAtADisplayedTenKilometresHasRunLess() {
    assertThat(10_000 - of(1).runWhenShown(10_000).lowM()).isCloseTo(99.01, within(0.005));
  }

  // ACSM, Health and Fitness Journal 24(4) 2020: VO2 = 0.1 S + 3.5 walking, 0.2 S + 3.5 running.
  // Walking at 5 km/h: 8.333 / 11.833 = 0.7042; running at 12 km/h: 40 / 43.5 = 0.9195.
  @Test
  void onlyTheSpeedsPartOfTheEnergyScales() {
    assertThat(of(1).shownEnergy(Gait.WALK, 5 / 3.6).low()).isCloseTo(0.7042, within(5e-5));
    assertThat(of(1).shownEnergy(Gait.RUN, 12 / 3.6).low()).isCloseTo(0.9195, within(5e-5));
  }

  // ACSM again, worked in a lecture's notes and on a worksheet: at 3.5 mph (93.8 m/min) the speed's
  // part is 9.38 of 12.88 ml/kg/min on the flat; an 8 MET jog takes 28 ml/kg/min at 122.5 m/min, so
  // 24.5 of 28; 160.8 m/min takes 35.66, so 32.16 of it.
  @Test
  void theSpeedsPartIsThatOfTheWorkedExamples() {
    double walk = of(1).shownEnergy(Gait.WALK, 93.8 / 60).high();
    assertThat(walk).isCloseTo(9.38 / 12.88, within(1e-9));
    double jog = of(1).shownEnergy(Gait.RUN, 122.5 / 60).high();
    assertThat(jog).isCloseTo(24.5 / 28, within(1e-9));
    double run = of(1).shownEnergy(Gait.RUN, 160.8 / 60).high();
    assertThat(run).isCloseTo(32.16 / 35.66, within(5e-5));
    // Twice the error moves it twice as much; none moves it by nothing.
    assertThat(of(2).shownEnergy(Gait.RUN, 3).high())
        .isCloseTo(2 * of(1).shownEnergy(Gait.RUN, 3).high(), within(1e-9));
    assertThat(of(0).shownEnergy(Gait.RUN, 3).high()).isZero();
  }

  // Exact: a marathon in 3:00:00 is 4:15.95 a km; a device 2 % short shows 4:21.17 there.
  @Test
  void theHoldersOfATargetTimeSeeAnotherPace() {
    double pace = 3 * 3600 / 42.195;
    assertThat(pace).isCloseTo(4 * 60 + 15.95, within(0.006));
    assertThat(of(-2).shownPace(pace).low()).isCloseTo(pace / 0.98, within(1e-9));
    assertThat(of(-2).shownPace(pace).high()).isCloseTo(4 * 60 + 21.18, within(0.01));
    // Held by that display, the race is over 2 % early: 3:36 before the three hours.
    assertThat(of(-2).finishTime(3 * 3600).low() - 3 * 3600).isCloseTo(-216, within(1e-6));
  }

  @Test
  void theIntervalOfTheErrorIsCarriedThrough() {
    RunnerEffect effect = new RunnerEffect(new PercentRange(-1, 2));
    assertThat(effect.shownPace(300).low()).isLessThan(300);
    assertThat(effect.shownPace(300).high()).isGreaterThan(300);
    assertThat(effect.finishTime(100).low()).isCloseTo(99, within(1e-9));
    assertThat(effect.finishTime(100).high()).isCloseTo(102, within(1e-9));
    assertThat(effect.shownEnergy(Gait.RUN, 3).low()).isNegative();
    assertThat(effect.shownEnergy(Gait.RUN, 3).high()).isPositive();
  }

  @Test
  void ridingHasNoEquationHere() {
    assertThatThrownBy(() -> of(1).shownEnergy(Gait.RIDE, 5))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
