package milewarden.format.xml;

/** A TCX track point; what counts of it is said at {@link TcxElements}. */
final class TcxMarkup implements FixMarkup {
  @Override
  public String element() {
    return "Trackpoint";
  }

  @Override
  public FixField attribute(String name) {
    return FixField.OTHER;
  }

  @Override
  public FixField text(String name, boolean child) {
    return switch (name) {
      case "Time" -> FixField.TIME;
      case "LatitudeDegrees" -> FixField.LATITUDE;
      case "LongitudeDegrees" -> FixField.LONGITUDE;
      case "AltitudeMeters" -> FixField.HEIGHT;
      case "DistanceMeters" -> FixField.DISTANCE;
      case "Speed" -> FixField.SPEED;
      case "Cadence", "RunCadence" -> FixField.CADENCE;
      case "Trackpoint" -> FixField.UNFIT;
      default -> FixField.OTHER;
    };
  }
}
