package milewarden.benchmark;

import java.util.Collection;

/** The middle of a few timings. */
final class Median {
  private Median() {}

  static double of(Collection<Double> values) {
    return values.stream().sorted().toList().get(values.size() / 2);
  }
}
