package milewarden.matching.line;

/** Where a place falls on the line; written over at every call, for speed. */
public final class Foot {
  double chainageM;
  double offsetM;
  double headingRad;

  /** Along the unrolled line, metres on the ellipsoid. */
  public double chainageM() {
    return chainageM;
  }

  /** Signed distance, right of increasing chainage positive, metres. */
  public double offsetM() {
    return offsetM;
  }

  /** Heading of the chosen edge, clockwise, unwound over laps, radians. */
  public double headingRad() {
    return headingRad;
  }
}
