package milewarden.simulator;

import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;

/** Independent streams of chance from one seed and what they are for. */
public final class Seeds {
  // JDK 17, java.util.random: the algorithm is named, so that its numbers stay the same.
  private static final RandomGeneratorFactory<RandomGenerator> FACTORY =
      RandomGeneratorFactory.of("L64X128MixRandom");

  private Seeds() {}

  public static RandomGenerator random(long seed, String purpose) {
    return FACTORY.create(mix(seed, purpose));
  }

  /** Another seed, the same for the same two. */
  public static long mix(long seed, String purpose) {
    long h = seed;
    for (int i = 0; i < purpose.length(); i++) h = scramble(h + purpose.charAt(i));
    return scramble(h);
  }

  /** Steele, Lea and Flood (2014), Fast splittable pseudorandom number generators: mix64. */
  private static long scramble(long z) {
    z += 0x9E3779B97F4A7C15L;
    z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
    z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
    return z ^ (z >>> 31);
  }
}
