package milewarden.benchmark;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.UnaryOperator;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.display.DisplayDetective;
import milewarden.accuracy.display.DisplayRule;
import milewarden.accuracy.display.RuleFound;
import milewarden.accuracy.display.ShownAndRecorded;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.fingerprint.Fingerprint.Kind;
import milewarden.accuracy.settings.Departure;
import milewarden.accuracy.settings.SettingsAudit;
import milewarden.accuracy.settings.StatedSettings;
import milewarden.course.Bounds;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.device.Rounding;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Odometer;
import milewarden.simulator.Odometer.Lost;
import milewarden.simulator.Odometer.Source;
import milewarden.simulator.Receiver;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.simulator.campaign.Display;
import milewarden.units.LengthUnit;

/**
 * How often the habits of counting, showing and recording are recovered where they were put in, and
 * reported where they are absent: display rule, distance from steps, interval, auto-pause.
 */
public final class HabitRates {
  private static final Position HERE = new Position(47.1, -30.7);
  private static final List<ReferenceCourse> COURSES =
      List.of(
          InventedCourse.straight("straight", HERE, 70, 1200),
          InventedCourse.circle("round", HERE, 150, 360));
  private static final int READINGS = 20;

  private HabitRates() {}

  public static void main(String[] args) {
    int n = args.length > 0 ? Integer.parseInt(args[0]) : 300;
    print(n, args.length > 1 ? Long.parseLong(args[1]) : 2_000_000);
  }

  /** Prints the table. */
  public static void print(int n, long from) {
    System.out.println("habit                           put in: right   wrong; absent: reported");
    for (DisplayRule rule : DisplayRule.values()) System.out.println(display(rule, n, from));
    for (Steps steps : Steps.values()) System.out.println(steps(steps, n, from));
    for (Settings settings : Settings.values()) System.out.println(settings(settings, n, from));
  }

  /**
   * Shares of tracks, or of sets of readings, 0 to 1.
   *
   * @param held put in, reported, and within the stated interval where there is one
   * @param wrong put in, and another or nothing true reported; not: uncertain
   * @param absent reported where it was not put in
   */
  public record Rates(String of, int n, double held, double wrong, double absent) {
    @Override
    public String toString() {
      return String.format(
          Locale.ROOT, "%-36s %8.3f %7.3f %8.3f   (n %d)", of, held, wrong, absent, n);
    }
  }

  /** Twenty readings a set; absent is a rule said that was not put in. */
  public static Rates display(DisplayRule rule, int n, long from) {
    int right = 0;
    int wrong = 0;
    for (long seed = from; seed < from + n; seed++) {
      RuleFound found = DisplayDetective.of(readings(rule, new SplittableRandom(seed)));
      if (found.said().isEmpty()) continue;
      if (found.said().get() == rule) right++;
      else wrong++;
    }
    double all = n;
    return new Rates("display " + rule, n, right / all, wrong / all, wrong / all);
  }

  /** What a simulated display shows of distances about a kilometre; its file keeps decimetres. */
  private static List<ShownAndRecorded> readings(DisplayRule rule, SplittableRandom random) {
    List<ShownAndRecorded> readings = new ArrayList<>();
    for (int i = 0; i < READINGS; i++) {
      double speed = 1.2 + 2 * random.nextDouble();
      double recorded = 1000 + 30 * random.nextDouble();
      double age = rule == DisplayRule.LATE ? 5 * random.nextDouble() : 0;
      double shown = shownBy(rule).show(recorded - age * speed).value() * 1000;
      readings.add(new ShownAndRecorded(shown, 10, Math.rint(recorded * 10) / 10, speed));
    }
    return readings;
  }

  private static Display shownBy(DisplayRule rule) {
    boolean rounds = rule == DisplayRule.ROUNDED || rule == DisplayRule.MILES_FIRST;
    Rounding rounding = rounds ? Rounding.ROUNDED : Rounding.TRUNCATED;
    Display display = new Display(LengthUnit.KILOMETRE, 0.01, rounding, true);
    boolean miles = rule == DisplayRule.MILES_FIRST || rule == DisplayRule.MILES_FIRST_CUT_OFF;
    return miles ? display.withMilesFirst() : display;
  }

  /** How steps come into the distance. */
  public enum Steps {
    ALL_WITH_CADENCE,
    IN_GAPS,
    WHILE_STANDING
  }

  /** Against the share that the simulator says; absent: by speed and by positions, in turn. */
  public static Rates steps(Steps steps, int n, long from) {
    int held = 0;
    int wrong = 0;
    int absent = 0;
    for (long seed = from; seed < from + n; seed++) {
      Fingerprint in = counted(with(steps, seed), seed);
      boolean holds = in.present() && holds(in, truePercent(steps, seed));
      if (holds) held++;
      else if (in.presence() != Fingerprint.Presence.UNSETTLED) wrong++;
      Source source = seed % 2 == 0 ? Source.SPEED : Source.POSITIONS;
      Fingerprint out =
          counted(
              made(seed + n, r -> r.withCadence().withOdometer(new Odometer(source, 1.01))),
              seed + n);
      if (out.present()) absent++;
    }
    double all = n;
    return new Rates("distance from steps " + steps, n, held / all, wrong / all, absent / all);
  }

  private static boolean holds(Fingerprint f, double truth) {
    return f.low().getAsDouble() <= truth + 1e-9 && f.high().getAsDouble() >= truth - 1e-9;
  }

  private static SimulatedTrack with(Steps steps, long seed) {
    return made(seed, r -> with(steps, r, seed));
  }

  private static Receiver with(Steps steps, Receiver r, long seed) {
    return switch (steps) {
      case ALL_WITH_CADENCE -> r.withCadence().withOdometer(Odometer.ofSteps(0.75));
      case IN_GAPS -> r.withOdometer(Odometer.ofSpeed(Lost.COUNTS_STEPS, wrongStepM(seed)));
      case WHILE_STANDING -> r.withOdometer(new Odometer(Source.SPEED, 1).withIdleSteps(40));
    };
  }

  /** Three tenths too long: a step length that is right can't be told from speed. */
  private static double wrongStepM(long seed) {
    Pace pace = Pace.of(seed);
    // The simulator's strides a second, two steps each.
    return 1.3 * pace.mps() / (2 * (pace.runs() ? 1.4 : 0.95));
  }

  /** How fast the seed goes. */
  private record Pace(boolean runs, double mps) {
    static Pace of(long seed) {
      SplittableRandom random = new SplittableRandom(seed);
      boolean runs = random.nextBoolean();
      return new Pace(runs, runs ? 2.4 + random.nextDouble() : 1.2 + 0.4 * random.nextDouble());
    }
  }

  /** Percent of the recorded distance that a device without that habit lacks. */
  private static double truePercent(Steps steps, long seed) {
    if (steps == Steps.ALL_WITH_CADENCE) return 100;
    Odometer without =
        steps == Steps.IN_GAPS
            ? Odometer.ofSpeed(Lost.STANDS_STILL, wrongStepM(seed))
            : new Odometer(Source.SPEED, 1);
    double all = with(steps, seed).recordedM().getAsDouble();
    double rest = made(seed, r -> r.withOdometer(without)).recordedM().getAsDouble();
    return 100 * (all - rest) / all;
  }

  private static Fingerprint counted(SimulatedTrack made, long seed) {
    return measured(made, seed).passes().get(0).fingerprints().stream()
        .filter(f -> f.kind() == Kind.COUNTED_FROM_STEPS)
        .findFirst()
        .orElseThrow();
  }

  /** A setting other than stated. */
  public enum Settings {
    EVERY_3_S(Departure.Kind.LONG_INTERVAL),
    EVERY_5_S(Departure.Kind.LONG_INTERVAL),
    SMART(Departure.Kind.UNEVEN_INTERVAL),
    AUTO_PAUSE(Departure.Kind.AUTO_PAUSE);

    private final Departure.Kind kind;

    Settings(Departure.Kind kind) {
      this.kind = kind;
    }
  }

  /** An interval holds to a tenth of a second, pauses by their number. */
  public static Rates settings(Settings settings, int n, long from) {
    int held = 0;
    int wrong = 0;
    int absent = 0;
    for (long seed = from; seed < from + n; seed++) {
      Optional<Departure> in = departure(settings, seed, r -> with(settings, r));
      boolean holds = in.isPresent() && holds(settings, in.get().value());
      if (holds) held++;
      else if (in.isPresent()) wrong++;
      if (departure(settings, seed + n, r -> r).isPresent()) absent++;
    }
    double all = n;
    return new Rates("settings " + settings, n, held / all, wrong / all, absent / all);
  }

  private static boolean holds(Settings settings, double value) {
    return switch (settings) {
      case EVERY_3_S -> Math.abs(value - 3) < 0.1;
      case EVERY_5_S -> Math.abs(value - 5) < 0.1;
      case SMART -> value >= 3;
      // The walk stops twice.
      case AUTO_PAUSE -> value == 2;
    };
  }

  private static Receiver with(Settings settings, Receiver r) {
    return switch (settings) {
      case EVERY_3_S -> r.withInterval(3);
      case EVERY_5_S -> r.withInterval(5);
      case SMART -> r.withSmart(new Receiver.Smart(7, 8));
      case AUTO_PAUSE -> r.withAutoPause();
    };
  }

  private static Optional<Departure> departure(
      Settings settings, long seed, UnaryOperator<Receiver> put) {
    SimulatedTrack made = made(seed, put);
    Departure.Kind also = settings == Settings.SMART ? Departure.Kind.LONG_INTERVAL : settings.kind;
    return SettingsAudit.of(made.track(), measured(made, seed), StatedSettings.USUAL).stream()
        .filter(d -> d.kind() == settings.kind || d.kind() == also)
        .findFirst();
  }

  private static TrackMeasurement measured(SimulatedTrack made, long seed) {
    TrackMeasurement found =
        Measurer.measure(made.track(), course(seed), MeasureOptions.NONE.withBounds(Bounds.MARKS));
    if (found.passes().isEmpty()) throw new IllegalStateException("no pass on seed " + seed);
    return found;
  }

  private static ReferenceCourse course(long seed) {
    return COURSES.get((int) (seed % COURSES.size()));
  }

  /** A walk or run that the seed draws: two stops, two holes, and a receiver with its noise. */
  private static SimulatedTrack made(long seed, UnaryOperator<Receiver> put) {
    boolean runs = Pace.of(seed).runs();
    double speed = Pace.of(seed).mps();
    SplittableRandom random = new SplittableRandom(seed + 1);
    ReferenceCourse course = course(seed);
    Walk walk =
        Walk.of(course)
            .withLaps(course.closed() && runs ? 2 : 1)
            .withGait(runs ? Gait.RUN : Gait.WALK, speed)
            .withVariation(0.04 + 0.04 * random.nextDouble(), 0.2)
            .withPauses(List.of(new Walk.Pause(300, 40), new Walk.Pause(700, 50)));
    // Before the first stop, also of who runs: 300 m take 88 s at least.
    double first = 20 + 18 * random.nextDouble();
    double second = 700 / speed + 110;
    Receiver receiver =
        Receiver.PERFECT
            .withNoise(0.5 + 1.5 * random.nextDouble(), 10 + 60 * random.nextDouble(), 0.1)
            .withGaps(
                List.of(
                    new Receiver.Gap(Math.rint(first), 40, false),
                    new Receiver.Gap(Math.rint(second), 50, false)));
    return TrackSimulator.simulate(walk, put.apply(receiver), Sky.CLEAR, seed);
  }
}
