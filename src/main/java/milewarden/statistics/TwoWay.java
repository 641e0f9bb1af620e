package milewarden.statistics;

/**
 * Rows and columns without repetition: how much of the variation belongs to the rows.
 *
 * @param rowComponent the rows' component of variance, (MS_row - MS_rest) / columns: negative where
 *     the rest alone makes rows differ more than they do; kept so, since a pool of such would else
 *     be too large
 * @param rowDegreesOfFreedom rows - 1
 * @param restVariance MS_rest
 */
public record TwoWay(double rowComponent, double rowDegreesOfFreedom, double restVariance) {
  /** The component as a variance: never negative (ASTM E691, ISO 5725-2 7.4.5). */
  public double rowVariance() {
    return Math.max(0, rowComponent);
  }

  /** From cells[row][column]; at least two of each. */
  public static TwoWay of(double[][] cells) {
    int rows = cells.length;
    int columns = cells[0].length;
    if (rows < 2 || columns < 2) throw new IllegalArgumentException(rows + " by " + columns);
    double[] rowMeans = new double[rows];
    double[] columnMeans = new double[columns];
    for (int i = 0; i < rows; i++)
      for (int j = 0; j < columns; j++) {
        rowMeans[i] += cells[i][j] / columns;
        columnMeans[j] += cells[i][j] / rows;
      }
    Sample means = Sample.of(rowMeans);
    double rest = 0;
    for (int i = 0; i < rows; i++)
      for (int j = 0; j < columns; j++) {
        double r = cells[i][j] - rowMeans[i] - columnMeans[j] + means.mean();
        rest += r * r;
      }
    double msRest = rest / ((rows - 1.0) * (columns - 1.0));
    double msRow = columns * means.variance();
    return new TwoWay((msRow - msRest) / columns, rows - 1.0, msRest);
  }
}
