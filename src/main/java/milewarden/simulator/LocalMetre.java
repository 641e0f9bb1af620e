package milewarden.simulator;

import milewarden.geodesy.Radii;

/** Metres in a degree of latitude and of longitude, for displacements of some metres. */
final class LocalMetre {
  private LocalMetre() {}

  static double perDegreeNorth(double latitudeDeg) {
    return Math.toRadians(Radii.meridianM(latitudeDeg));
  }

  static double perDegreeEast(double latitudeDeg) {
    double cos = Math.cos(Math.toRadians(latitudeDeg));
    return Math.toRadians(Radii.primeVerticalM(latitudeDeg)) * cos;
  }
}
