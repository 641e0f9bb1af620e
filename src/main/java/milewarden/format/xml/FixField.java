package milewarden.format.xml;

/** What a value in the markup of a fix is. */
enum FixField {
  LATITUDE,
  LONGITUDE,
  TIME,
  HEIGHT,
  DISTANCE,
  SPEED,
  CADENCE,
  /** Nothing that is read of it; it may differ from fix to fix. */
  OTHER,
  /** A fix that holds this is left to the parser. */
  UNFIT;

  boolean isPosition() {
    return this == LATITUDE || this == LONGITUDE;
  }
}
