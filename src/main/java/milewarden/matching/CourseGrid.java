package milewarden.matching;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.geodesy.Radii;
import milewarden.track.Track;

/**
 * Which courses lie around a place, by cells of a hundredth of a degree: so that a track is held
 * against its neighbours alone, however many courses there are.
 */
final class CourseGrid {
  // About a kilometre: most courses lie in a few cells.
  private static final double CELLS_PER_DEGREE = 100;
  private static final long AROUND = (long) (360 * CELLS_PER_DEGREE);

  /** A course over more cells than this is a neighbour of every place. */
  private static final long MOST_CELLS = 10_000;

  // Nearer to a pole a cell of longitude gets so narrow that every course there has too many.
  private static final double LEAST_COSINE = 0.01;

  private final Map<Long, List<Integer>> cells = new HashMap<>();
  private final BitSet everywhere = new BitSet();

  CourseGrid(List<Polyline> lines, double reachM) {
    for (int i = 0; i < lines.size(); i++) add(i, lines.get(i), reachM);
  }

  private void add(int course, Polyline line, double reachM) {
    double first = line.positions().get(0).longitudeDeg();
    double south = 90;
    double north = -90;
    double west = 0;
    double east = 0;
    for (Position p : line.positions()) {
      south = Math.min(south, p.latitudeDeg());
      north = Math.max(north, p.latitudeDeg());
      double d = Math.IEEEremainder(p.longitudeDeg() - first, 360);
      west = Math.min(west, d);
      east = Math.max(east, d);
    }
    double pad = Math.toDegrees(reachM / Radii.meridianM(south));
    double highest = Math.toRadians(Math.max(Math.abs(south), Math.abs(north)));
    double padEast = pad / Math.max(LEAST_COSINE, Math.cos(highest));
    long y0 = cell(south - pad);
    long y1 = cell(north + pad);
    long x0 = cell(first + west - padEast);
    long x1 = cell(first + east + padEast);
    if ((y1 - y0 + 1) * (x1 - x0 + 1) > MOST_CELLS) {
      everywhere.set(course);
      return;
    }
    for (long y = y0; y <= y1; y++)
      for (long x = x0; x <= x1; x++)
        cells.computeIfAbsent(key(x, y), k -> new ArrayList<>()).add(course);
  }

  private static long cell(double degrees) {
    return (long) Math.floor(degrees * CELLS_PER_DEGREE);
  }

  private static long key(long x, long y) {
    // Longitudes that differ by a whole turn are one.
    return Math.floorMod(x, AROUND) + AROUND * y;
  }

  /** The courses within reach of some of a track's fixes, of those that are named. */
  BitSet around(Track track, int[] fixes) {
    BitSet found = (BitSet) everywhere.clone();
    long before = Long.MIN_VALUE;
    for (int i : fixes) {
      long key = key(cell(track.longitudesDeg()[i]), cell(track.latitudesDeg()[i]));
      if (key == before) continue;
      before = key;
      for (int course : cells.getOrDefault(key, List.of())) found.set(course);
    }
    return found;
  }
}
