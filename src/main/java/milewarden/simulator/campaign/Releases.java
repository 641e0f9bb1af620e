package milewarden.simulator.campaign;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.device.Carriage;
import milewarden.device.Rounding;
import milewarden.simulator.Odometer;
import milewarden.simulator.Receiver;
import milewarden.simulator.campaign.InventedRelease.Expected;
import milewarden.simulator.campaign.InventedRelease.ExpectedDue;
import milewarden.track.DeviceClaim;
import milewarden.units.LengthUnit;

/** The invented models, their units and releases, and what was put into each. */
final class Releases {
  static final String LIR = "Quorvane Lir";
  static final String UB = "Thessamor Ub";
  static final String DUN = "Ettwick Dun";

  private Releases() {}

  /** Outings of the whole campaign. */
  static int outings() {
    return 31;
  }

  static List<InventedUnit> units() {
    Optional<Display> metres =
        Optional.of(new Display(LengthUnit.KILOMETRE, 0.001, Rounding.TRUNCATED, true));
    Optional<Display> miles =
        Optional.of(new Display(LengthUnit.MILE, 0.01, Rounding.ROUNDED, true));
    return List.of(
        new InventedUnit("Lir 1", LIR, false, Carriage.SWING_LEFT, "left wrist upper", metres),
        new InventedUnit("Lir 2", LIR, false, Carriage.SWING_LEFT, "left wrist lower", metres),
        new InventedUnit("Ub 1", UB, false, Carriage.SWING_RIGHT, "right wrist upper", miles),
        new InventedUnit(
            "Dun 1", DUN, true, Carriage.SWING_RIGHT, "right wrist lower", Optional.empty()));
  }

  static List<InventedRelease> all(LocalDate first, int daysApart, LocalDate today) {
    Receiver lir = receiver(1.5, new Odometer(Odometer.Source.SPEED, 1.002));
    Receiver lirLong = lir.withOdometer(new Odometer(Odometer.Source.SPEED, 1.018));
    Receiver ub = receiver(0.5, new Odometer(Odometer.Source.POSITIONS, 1));
    Receiver dun = receiver(1.2, new Odometer(Odometer.Source.SPEED, 1.001));
    List<InventedRelease> all = new ArrayList<>();
    Plan plan = new Plan(all, first, daysApart);
    plan.model(LIR);
    plan.add(
        "1.4.0",
        lir,
        0,
        8,
        "reads 0.2 % long",
        Expected.BASELINE,
        ExpectedDue.NONE,
        "Good enough for racing by its display on these courses.");
    plan.add("1.5.0", lir, 0, 12, "changes nothing", Expected.EQUIVALENT, ExpectedDue.NONE, "");
    plan.add(
        "2.0.0",
        lirLong,
        0,
        5,
        "reads 1.6 points longer",
        Expected.WORSE,
        ExpectedDue.NONE,
        "Since 2.0.0 it reads nearly two percent long: do not race by its display.");
    plan.add(
        "2.1.0",
        lir,
        0,
        6,
        "reads as 1.4.0 again",
        Expected.BETTER,
        ExpectedDue.NONE,
        "2.1.0 takes the excess of 2.0.0 away.");
    plan.untested("2.2.0", lir, today.minusDays(4), "not yet tested");
    plan.model(UB);
    plan.add(
        "0.8.0",
        ub,
        0,
        8,
        "noise lengthens the walk a little",
        Expected.BASELINE,
        ExpectedDue.NONE,
        "A sound recorded distance on these courses, of the one unit tested.");
    plan.add(
        "0.9.0",
        ub.withSmoothing(4),
        0,
        3,
        "smooths positions over 4 s and cuts corners",
        Expected.WORSE,
        ExpectedDue.NONE,
        "0.9.0 cuts corners: short on the track, less so elsewhere.");
    plan.add(
        "1.0.0",
        ub,
        0,
        8,
        "smooths no more",
        Expected.BETTER,
        ExpectedDue.NONE,
        "1.0.0 follows bends again.");
    plan.add(
        "1.1.0",
        ub,
        1.0,
        12,
        "adds noise: its scale differs by 1 % from outing to outing",
        Expected.CHANGED,
        ExpectedDue.VERDICT_UPDATE_DUE,
        "");
    plan.model(DUN);
    plan.add("3.1.0", dun, 0, outings(), "left alone", Expected.BASELINE, ExpectedDue.NONE, "");
    return List.copyOf(all);
  }

  /** Seven decimals and noise that changes over 100 s, this many metres per axis. */
  private static Receiver receiver(double sigmaM, Odometer odometer) {
    return Receiver.PERFECT.withNoise(sigmaM, 100, 0.05).withDecimals(7).withOdometer(odometer);
  }

  /** Puts releases one behind the other, each out five days before its first outing. */
  private static final class Plan {
    private final List<InventedRelease> all;
    private final LocalDate first;
    private final int daysApart;
    private String model = "";
    private int outings;

    Plan(List<InventedRelease> all, LocalDate first, int daysApart) {
      this.all = all;
      this.first = first;
      this.daysApart = daysApart;
    }

    void model(String name) {
      model = name;
      outings = 0;
    }

    void add(
        String version,
        Receiver receiver,
        double spread,
        int sessions,
        String injected,
        Expected expected,
        ExpectedDue due,
        String words) {
      LocalDate date = first.plusDays((long) daysApart * outings).minusDays(5);
      outings += sessions;
      all.add(
          new InventedRelease(
              model,
              version,
              date,
              claiming(receiver, version),
              spread,
              sessions,
              injected,
              expected,
              due,
              words));
    }

    void untested(String version, Receiver receiver, LocalDate date, String injected) {
      all.add(
          new InventedRelease(
              model,
              version,
              date,
              claiming(receiver, version),
              0,
              0,
              injected,
              Expected.UNTESTED,
              ExpectedDue.RETEST_DUE,
              ""));
    }

    private Receiver claiming(Receiver receiver, String version) {
      return receiver.withClaim(
          new DeviceClaim(
              Optional.of(model), Optional.empty(), Optional.empty(), Optional.of(version)));
    }
  }
}
