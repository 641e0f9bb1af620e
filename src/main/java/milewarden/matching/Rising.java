package milewarden.matching;

/**
 * The rising sequence nearest to a given one by least squares: neighbours that fall are pooled to
 * their mean.
 *
 * @see "Ayer, Brunk, Ewing, Reid, Silverman (1955), Annals of Mathematical Statistics 26, 641-647;
 *     from memory"
 */
final class Rising {
  private Rising() {}

  /**
   * Makes a part of an array rise, or fall.
   *
   * @param to behind the last element
   * @param sign 1 to rise, -1 to fall
   */
  static void make(double[] values, int from, int to, int sign) {
    int[] ends = new int[to - from];
    double[] means = new double[to - from];
    int pools = 0;
    for (int i = from; i < to; i++) {
      double sum = sign * values[i];
      int start = i;
      while (pools > 0 && means[pools - 1] >= sum / (i + 1 - start)) {
        pools--;
        int before = pools == 0 ? from : ends[pools - 1];
        sum += means[pools] * (start - before);
        start = before;
      }
      means[pools] = sum / (i + 1 - start);
      ends[pools++] = i + 1;
    }
    int i = from;
    for (int p = 0; p < pools; p++) while (i < ends[p]) values[i++] = sign * means[p];
  }
}
