package milewarden.accuracy.display;

/**
 * One reading of a display, and what the device itself had counted.
 *
 * @param shownM the number read, metres
 * @param stepM the display's step, metres, above 0
 * @param recordedM the device's own distance, metres
 * @param speedMps mean speed of the pass: how fast a distance ages; 0 where unknown
 */
public record ShownAndRecorded(double shownM, double stepM, double recordedM, double speedMps) {
  public ShownAndRecorded {
    if (!(stepM > 0)) throw new IllegalArgumentException("step: " + stepM);
    if (!Double.isFinite(shownM) || !Double.isFinite(recordedM))
      throw new IllegalArgumentException("shown " + shownM + ", recorded " + recordedM);
    if (!(speedMps >= 0)) throw new IllegalArgumentException("speed: " + speedMps);
  }

  /** By how much the recorded distance exceeds the reading, in steps. */
  double excessSteps() {
    return (recordedM - shownM) / stepM;
  }
}
