package milewarden.simulator.campaign;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.random.RandomGenerator;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.simulator.Receiver;
import milewarden.simulator.Seeds;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;

/**
 * One outing of the invented campaign: all units go over all three courses together. What a unit
 * does that day is drawn from the outing's seed; what all do is the day's.
 *
 * <p>In percent of the distance, normal and independent: the day 0.10 for all units, each unit 0.06
 * from outing to outing (more where its release is noisy), each recording 0.04. No source: so small
 * that twelve outings can show two releases to be alike within half a percent.
 */
public final class Outing {
  private static final double DAY_PERCENT = 0.10;
  private static final double UNIT_PERCENT = 0.06;
  private static final double RECORDING_PERCENT = 0.04;
  private static final double NOISE_SPREAD = 0.10;
  private static final double STANDING_S = 5;
  private static final double WALK_MPS = 1.4;
  private static final double CUT_MPS = 3.2;
  private static final double OVAL_MPS = 3.4;
  private static final int OVAL_LAPS = 4;

  /** A unit with the release that is on it that day. */
  public record Carried(InventedUnit unit, InventedRelease release) {}

  /**
   * A recording.
   *
   * @param file its name in the outing's folder
   * @param pass of the outing, from 1
   */
  public record Recording(String file, int pass, Carried carried, Walk walk, SimulatedTrack made) {}

  /** One traversal that all units share. */
  record Leg(String name, Walk walk) {}

  private final String session;
  private final Instant startedAt;
  private final List<Carried> carried;
  private final List<ReferenceCourse> courses;
  private final long seed;

  Outing(
      String session,
      Instant startedAt,
      List<Carried> carried,
      List<ReferenceCourse> courses,
      long seed) {
    this.session = session;
    this.startedAt = startedAt;
    this.carried = List.copyOf(carried);
    this.courses = List.copyOf(courses);
    this.seed = seed;
  }

  public String session() {
    return session;
  }

  public Instant startedAt() {
    return startedAt;
  }

  public List<Carried> carried() {
    return carried;
  }

  /** The field sheet of this outing's recordings as {@code session.csv}, one row each. */
  public String sheet(List<Recording> recordings) {
    return FieldSheet.of(session, recordings);
  }

  /** Runs the outing; the same at every call. */
  public List<Recording> record() {
    RandomGenerator day = Seeds.random(seed, "day");
    double dayPercent = DAY_PERCENT * day.nextGaussian();
    double noise = Math.max(0.5, 1 + NOISE_SPREAD * day.nextGaussian());
    double[] own = new double[carried.size()];
    for (int i = 0; i < own.length; i++) {
      Carried c = carried.get(i);
      double spread = Math.hypot(UNIT_PERCENT, c.release().sessionSpreadPercent());
      own[i] = spread * Seeds.random(seed, "unit " + c.unit().name()).nextGaussian();
    }
    List<Recording> made = new ArrayList<>();
    int pass = 0;
    for (Leg leg : legs(courses, startedAt)) {
      pass++;
      for (int i = 0; i < own.length; i++) {
        String key = leg.name() + " " + carried.get(i).unit().name();
        double percent =
            dayPercent + own[i] + RECORDING_PERCENT * Seeds.random(seed, key).nextGaussian();
        Sky sky = new Sky(Seeds.mix(seed, leg.name()), 0.5, 200, noise, percent);
        made.add(recording(leg, pass, carried.get(i), sky, Seeds.mix(seed, key)));
      }
    }
    return made;
  }

  /** What is run on each outing, in order. */
  static List<Leg> legs(List<ReferenceCourse> courses, Instant start) {
    Walk walk = usual(courses.get(0), start);
    Walk run =
        usual(courses.get(1), after(start, 32))
            .withGait(Gait.RUN, CUT_MPS)
            .withCarriage(Carriage.SWING_RIGHT);
    Walk laps =
        usual(courses.get(2), after(start, 52)).withGait(Gait.RUN, OVAL_MPS).withLaps(OVAL_LAPS);
    Walk walkBack = walk.withDirection(Direction.REVERSE).withStart(after(start, 15));
    Walk runBack = run.withDirection(Direction.REVERSE).withStart(after(start, 40));
    return List.of(
        new Leg("loop-out", walk),
        new Leg("loop-back", walkBack),
        new Leg("cut-out", run),
        new Leg("cut-back", runBack),
        new Leg("oval", laps));
  }

  private static Walk usual(ReferenceCourse course, Instant start) {
    return Walk.of(course)
        .withGait(Gait.WALK, WALK_MPS)
        .withStanding(STANDING_S)
        .withVariation(0.04, 0.15)
        .withStart(start);
  }

  private static Instant after(Instant start, long minutes) {
    return start.plusSeconds(60 * minutes);
  }

  private static Recording recording(Leg leg, int pass, Carried c, Sky sky, long seed) {
    boolean swings = leg.walk().carriage() != Carriage.FIXED;
    Walk walk = swings ? leg.walk().withCarriage(c.unit().wrist()) : leg.walk();
    Receiver receiver = c.release().receiver();
    SimulatedTrack made = TrackSimulator.simulate(walk, receiver, sky, seed);
    String file = leg.name() + "-" + slug(c.unit().name()) + ".gpx";
    return new Recording(file, pass, c, walk, made);
  }

  private static String slug(String name) {
    return name.toLowerCase(Locale.ROOT).replace(' ', '-');
  }
}
