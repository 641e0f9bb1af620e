package milewarden.geodesy;

/** A point of a {@link LocalPlane}, metres: x to the east, y to the north of its origin. */
public record PlanePoint(double xM, double yM) {}
