package milewarden.matching;

/** Where a place falls on the line; written over at every call, for speed. */
final class Foot {
  /** Along the unrolled line, metres on the ellipsoid. */
  double chainageM;

  /** Signed distance, right of increasing chainage positive, metres. */
  double offsetM;

  /** Heading of the chosen edge, clockwise, unwound over laps, radians. */
  double headingRad;
}
