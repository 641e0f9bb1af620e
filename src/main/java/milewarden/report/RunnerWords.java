package milewarden.report;

import java.util.ArrayList;
import java.util.List;
import milewarden.accuracy.RunnerEffect;
import milewarden.accuracy.RunnerEffect.Seconds;
import milewarden.device.Gait;
import milewarden.units.LengthRange;
import milewarden.units.PercentRange;

/** What an error means to somebody who runs by the device. */
public final class RunnerWords {
  private static final double MARATHON_M = 42_195;
  // An everyday pace, speeds and a race as examples: common practice, no source.
  private static final double EXAMPLE_S_PER_M = 0.300;
  private static final double WALKING_MPS = 5 / 3.6;
  private static final double RUNNING_MPS = 12 / 3.6;

  private RunnerWords() {}

  /** One sentence each: pace, finish time, marathon, energy. */
  public static List<String> of(PercentRange error, Digits digits) {
    RunnerEffect effect = new RunnerEffect(error);
    double unitM = digits.units().road().metres();
    Seconds shown = effect.shownPace(EXAMPLE_S_PER_M * unitM);
    Seconds finish = effect.finishTime(MARATHON_M * EXAMPLE_S_PER_M);
    double target = MARATHON_M * EXAMPLE_S_PER_M;
    LengthRange marathon = effect.shownMarathon();
    List<String> out = new ArrayList<>();
    out.add(
        "At a true pace of "
            + digits.pace(EXAMPLE_S_PER_M)
            + " it shows "
            + between(digits.pace(shown.low() / unitM), digits.pace(shown.high() / unitM))
            + ".");
    out.add(
        "Who holds that pace by its display over a marathon is off the target by "
            + between(
                digits.timeChange(finish.low() - target), digits.timeChange(finish.high() - target))
            + " (minutes and seconds).");
    out.add(
        "At the finish of a marathon ("
            + digits.distance(MARATHON_M)
            + ") it shows "
            + between(digits.distance(marathon.lowM()), digits.distance(marathon.highM()))
            + ".");
    out.add(energy(effect, digits));
    return List.copyOf(out);
  }

  private static String energy(RunnerEffect effect, Digits digits) {
    PercentRange walking = effect.shownEnergy(Gait.WALK, WALKING_MPS);
    PercentRange running = effect.shownEnergy(Gait.RUN, RUNNING_MPS);
    return "Energy worked out from its distance moves by "
        + digits.interval(walking)
        + " walking and "
        + digits.interval(running)
        + " running; an estimate, no advice.";
  }

  private static String between(String low, String high) {
    return low.equals(high) ? low : low + " to " + high;
  }
}
