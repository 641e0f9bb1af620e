package milewarden.simulator;

/** Gathers the truth, fix by fix. */
final class TruthColumns {
  private final Column travelled = new Column();
  private final Column chainage = new Column();
  private final Column offset = new Column();
  private final Column latitude = new Column();
  private final Column longitude = new Column();
  private final Column time = new Column();
  private final Column lap = new Column();
  private final Column standing = new Column();
  private final Column offCourse = new Column();
  private final Column outlier = new Column();
  private int size;

  /** The truth about one fix. */
  record Row(
      double travelledM,
      double chainageM,
      double offsetM,
      double latitudeDeg,
      double longitudeDeg,
      long timeMs,
      int lap,
      boolean standing,
      boolean offCourse,
      boolean outlier) {}

  void add(Row row) {
    travelled.set(size, row.travelledM());
    chainage.set(size, row.chainageM());
    offset.set(size, row.offsetM());
    latitude.set(size, row.latitudeDeg());
    longitude.set(size, row.longitudeDeg());
    time.set(size, row.timeMs());
    lap.set(size, row.lap());
    standing.set(size, row.standing() ? 1 : 0);
    offCourse.set(size, row.offCourse() ? 1 : 0);
    outlier.set(size, row.outlier() ? 1 : 0);
    size++;
  }

  Truth truth(double referenceM) {
    return new Truth(
        referenceM,
        travelled.cut(size),
        chainage.cut(size),
        offset.cut(size),
        latitude.cut(size),
        longitude.cut(size),
        time.longs(size),
        lap.integers(size),
        standing.flags(size),
        offCourse.flags(size),
        outlier.flags(size));
  }
}
