package milewarden.simulator;

import java.util.Arrays;

/** One growing column of doubles. */
final class Column {
  private double[] values = new double[1024];

  void set(int i, double value) {
    if (i == values.length) values = Arrays.copyOf(values, 2 * i);
    values[i] = value;
  }

  double[] cut(int n) {
    return Arrays.copyOf(values, n);
  }

  boolean[] flags(int n) {
    boolean[] flags = new boolean[n];
    for (int i = 0; i < n; i++) flags[i] = values[i] != 0;
    return flags;
  }

  int[] integers(int n) {
    return Arrays.stream(values, 0, n).mapToInt(v -> (int) v).toArray();
  }

  long[] longs(int n) {
    // Milliseconds since 1970 are whole numbers far below 2^53.
    return Arrays.stream(values, 0, n).mapToLong(v -> (long) v).toArray();
  }
}
