package milewarden.accuracy.noise;

import java.util.List;
import java.util.Optional;

/**
 * Does the noise of the offsets explain the wander of the track? Asked of the track as it is and of
 * every 2nd and every 4th fix of it.
 *
 * @param observedM weave + backtrack at thinning 1, 2 and 4, metres; empty where too few fixes
 * @param predictedM what the noise model says for the same, metres
 * @param uncertaintyM half-width of the 95 % interval of observed - predicted; empty in results of
 *     earlier engines
 * @param evenness whether the noise is as strong everywhere; empty where too few fixes, and in
 *     results of earlier engines
 * @param plainNoise true only where all three agree and the noise is even: else one has to look at
 *     the track
 */
public record NoiseCheck(
    List<Double> observedM,
    List<Double> predictedM,
    List<Double> uncertaintyM,
    Optional<Evenness> evenness,
    boolean plainNoise) {
  /** Too few fixes to ask. */
  public static final NoiseCheck NONE =
      new NoiseCheck(List.of(), List.of(), List.of(), Optional.empty(), false);

  public NoiseCheck {
    observedM = List.copyOf(observedM);
    predictedM = List.copyOf(predictedM);
    uncertaintyM = uncertaintyM == null ? List.of() : List.copyOf(uncertaintyM);
    evenness = evenness == null ? Optional.empty() : evenness;
  }
}
