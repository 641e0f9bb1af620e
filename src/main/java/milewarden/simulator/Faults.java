package milewarden.simulator;

import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import java.util.random.RandomGenerator;
import milewarden.track.Track;

/**
 * What goes wrong while a file is written: so many fixes, drawn apart from one another, are spoilt
 * in each of these ways. The truth beside the track stays.
 *
 * @param repeatedTimes fixes that carry the time of the one before
 * @param backwardTimes fixes whose time lies seven seconds before the one before
 * @param repeatedPositions fixes that stand where the one before stood
 * @param spikes fixes thrown 300 m to the north
 */
public record Faults(int repeatedTimes, int backwardTimes, int repeatedPositions, int spikes) {
  private static final long BACK_MS = 7_000;
  private static final double SPIKE_M = 300;
  // Faults this close could be taken for one another.
  private static final int APART = 12;

  public static final Faults NONE = new Faults(0, 0, 0, 0);

  public Faults {
    if (repeatedTimes < 0 || backwardTimes < 0 || repeatedPositions < 0 || spikes < 0)
      throw new IllegalArgumentException("counts are not negative");
  }

  /**
   * A copy of this recording with these faults.
   *
   * @param seed decides which fixes
   * @throws IllegalArgumentException where the recording is too short for so many
   */
  public SimulatedTrack spoil(SimulatedTrack made, long seed) {
    Track track = made.track();
    int count = repeatedTimes + backwardTimes + repeatedPositions + spikes;
    if (track.size() < 3 * APART * (count + 1))
      throw new IllegalArgumentException("too short for " + count + " faults");
    double[] lat = track.latitudesDeg().clone();
    double[] lon = track.longitudesDeg().clone();
    long[] time = track.timesMs().clone();
    int done = 0;
    for (int i : places(track.size(), count, Seeds.random(seed, "faults"))) {
      int kind = done++;
      if (kind < repeatedTimes) time[i] = time[i - 1];
      else if ((kind -= repeatedTimes) < backwardTimes) time[i] = time[i - 1] - BACK_MS;
      else if (kind - backwardTimes < repeatedPositions) {
        lat[i] = lat[i - 1];
        lon[i] = lon[i - 1];
      } else lat[i] += SPIKE_M / LocalMetre.perDegreeNorth(lat[i]);
    }
    return new SimulatedTrack(copy(track, lat, lon, time), made.truth(), made.recordedM());
  }

  private static Set<Integer> places(int size, int count, RandomGenerator random) {
    Set<Integer> places = new TreeSet<>();
    while (places.size() < count) {
      int at = random.nextInt(APART, size - APART);
      if (places.stream().allMatch(p -> Math.abs(p - at) >= APART)) places.add(at);
    }
    return places;
  }

  private static Track copy(Track track, double[] lat, double[] lon, long[] time) {
    int[] starts = new int[track.segments()];
    for (int s = 0; s < starts.length; s++) starts[s] = track.segmentStart(s);
    return new Track(
            track.format(),
            lat,
            lon,
            track.heightsM(),
            time,
            track.distancesM(),
            track.speedsMps(),
            starts,
            track.claim(),
            OptionalDouble.empty())
        .withCadencesPerMin(track.cadencesPerMin());
  }
}
