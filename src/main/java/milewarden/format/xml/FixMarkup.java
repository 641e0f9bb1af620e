package milewarden.format.xml;

/** How a format writes a fix: its element, and what the values in it are. */
enum FixMarkup {
  /** What counts of it is said at {@link GpxElements}. */
  GPX("trkpt") {
    @Override
    FixField attribute(String name) {
      return switch (name) {
        case "lat" -> FixField.LATITUDE;
        case "lon" -> FixField.LONGITUDE;
        default -> FixField.OTHER;
      };
    }

    @Override
    FixField text(String name, boolean child) {
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
  },
  /** What counts of it is said at {@link TcxElements}. */
  TCX("Trackpoint") {
    @Override
    FixField attribute(String name) {
      return FixField.OTHER;
    }

    @Override
    FixField text(String name, boolean child) {
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
  };

  private final String element;

  FixMarkup(String element) {
    this.element = element;
  }

  /** Local name of the element of a fix. */
  String element() {
    return element;
  }

  /** What an attribute of the fix's own element is; one that is only counted is OTHER. */
  abstract FixField attribute(String name);

  /**
   * What the text of an element inside the fix is.
   *
   * @param child whether it is a child of the fix's element, not deeper
   */
  abstract FixField text(String name, boolean child);
}
