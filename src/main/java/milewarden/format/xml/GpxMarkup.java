package milewarden.format.xml;

/** A GPX track point; what counts of it is said at {@link GpxElements}. */
final class GpxMarkup implements FixMarkup {
  @Override
  public String element() {
    return "trkpt";
  }

  @Override
  public FixField attribute(String name) {
    return switch (name) {
      case "lat" -> FixField.LATITUDE;
      case "lon" -> FixField.LONGITUDE;
      default -> FixField.OTHER;
    };
  }

  @Override
  public FixField text(String name, boolean child) {
    return switch (name) {
      case "time" -> child ? FixField.TIME : FixField.OTHER;
      case "ele" -> child ? FixField.HEIGHT : FixField.OTHER;
      case "speed", "Speed" -> FixField.SPEED;
      case "distance", "Distance" -> FixField.DISTANCE;
      case "cad", "cadence", "Cadence", "RunCadence" -> FixField.CADENCE;
      case "trkpt" -> FixField.UNFIT;
      default -> FixField.OTHER;
    };
  }
}
