package milewarden.simulator.campaign;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import milewarden.course.ReferenceCourse;
import milewarden.device.Carriage;
import milewarden.simulator.Receiver;
import milewarden.simulator.Seeds;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;

/**
 * An invented test campaign: two models of invented makers and a control unit on three courses, the
 * releases that came out while it ran, the verdicts that its tester published, and what was put
 * into each release. Nothing of it exists. The same day and seed give the same campaign.
 */
public final class Campaign {
  /** Days between two outings; no source: a busy tester. */
  private static final int DAYS_APART = 10;

  // Three parts of the day, in turn (DOMAIN.md section 2: time and sky).
  private static final List<LocalTime> STARTS =
      List.of(LocalTime.of(7, 10), LocalTime.of(12, 30), LocalTime.of(16, 45));

  private final LocalDate today;
  private final List<ReferenceCourse> courses;
  private final List<InventedRelease> releases;
  private final List<Event> events;

  private Campaign(LocalDate today, long seed) {
    this.today = today;
    int outings = Releases.outings();
    LocalDate first = today.minusDays((long) DAYS_APART * outings);
    LocalDate measured = first.minusDays(20);
    courses = List.of(Ground.loop(measured), Ground.cut(measured), Ground.oval(measured));
    releases = Releases.all(first, DAYS_APART, today);
    events = timeline(first, seed);
  }

  /**
   * The campaign that ends shortly before {@code today}.
   *
   * @param seed fixes every draw
   */
  public static Campaign invented(LocalDate today, long seed) {
    return new Campaign(today, seed);
  }

  /** Something that happens at one moment. */
  public sealed interface Event {
    Instant at();

    <R> R fold(
        Function<Run, R> run, Function<Published, R> published, Function<Registered, R> registered);
  }

  /** An outing was run: its files and field sheet reach the inbox. */
  public record Run(Instant at, Outing outing) implements Event {
    @Override
    public <R> R fold(
        Function<Run, R> run,
        Function<Published, R> published,
        Function<Registered, R> registered) {
      return run.apply(this);
    }
  }

  /** The tester publishes a verdict on a release. */
  public record Published(Instant at, InventedRelease release) implements Event {
    @Override
    public <R> R fold(
        Function<Run, R> run,
        Function<Published, R> published,
        Function<Registered, R> registered) {
      return published.apply(this);
    }
  }

  /** The tester hears of a release and registers it with its date. */
  public record Registered(Instant at, InventedRelease release) implements Event {
    @Override
    public <R> R fold(
        Function<Run, R> run,
        Function<Published, R> published,
        Function<Registered, R> registered) {
      return registered.apply(this);
    }
  }

  public LocalDate today() {
    return today;
  }

  /** Loop, cut and oval. */
  public List<ReferenceCourse> courses() {
    return courses;
  }

  /** By model in order of the first to be tested, then by date; the control's last. */
  public List<InventedRelease> releases() {
    return releases;
  }

  /** In order of time. */
  public List<Event> events() {
    return events;
  }

  private List<Event> timeline(LocalDate first, long seed) {
    List<Event> all = new ArrayList<>();
    Map<String, Integer> done = new HashMap<>();
    for (InventedRelease r : releases)
      all.add(new Registered(r.releasedOn().atTime(6, 0).toInstant(ZoneOffset.UTC), r));
    for (int i = 0; i < Releases.outings(); i++) {
      LocalDate date = first.plusDays((long) DAYS_APART * i);
      Instant start = date.atTime(STARTS.get(i % STARTS.size())).toInstant(ZoneOffset.UTC);
      String session = date + " " + "abc".charAt(i % STARTS.size());
      List<Outing.Carried> carried = new ArrayList<>();
      for (InventedUnit unit : Releases.units())
        release(unit.model(), i).ifPresent(r -> carried.add(new Outing.Carried(unit, r)));
      long mixed = Seeds.mix(seed, "outing " + i);
      all.add(new Run(start, new Outing(session, start, carried, courses, mixed)));
      for (InventedRelease r : releases) {
        if (carried.stream().noneMatch(c -> c.release().equals(r))) continue;
        int run = done.merge(r.model() + " " + r.version(), 1, Integer::sum);
        if (run == r.sessions() && !r.verdictWords().isEmpty())
          all.add(new Published(start.plusSeconds(86_400), r));
      }
    }
    all.sort(Comparator.comparing(Event::at));
    return List.copyOf(all);
  }

  /** The release that is on a model's units at this outing. */
  private Optional<InventedRelease> release(String model, int outing) {
    int before = 0;
    for (InventedRelease r : releases) {
      if (!r.model().equals(model)) continue;
      before += r.sessions();
      if (outing < before) return Optional.of(r);
    }
    return Optional.empty();
  }

  /**
   * The error that a release makes without any noise, in percent of the reference, on each course
   * in their order, carried and run as in the campaign, both directions averaged. What one release
   * differs from another was put in.
   */
  public List<Double> injectedPercent(InventedRelease release) {
    Receiver quiet = release.receiver().withNoise(0, 1, 0);
    Carriage wrist =
        Releases.units().stream()
            .filter(u -> u.model().equals(release.model()))
            .findFirst()
            .map(InventedUnit::wrist)
            .orElseThrow();
    List<Double> errors = new ArrayList<>();
    for (ReferenceCourse course : courses)
      errors.add(
          Outing.legs(courses, Instant.EPOCH).stream()
              .map(Outing.Leg::walk)
              .filter(w -> w.course().equals(course))
              .map(w -> w.carriage() == Carriage.FIXED ? w : w.withCarriage(wrist))
              .mapToDouble(
                  w -> {
                    SimulatedTrack made = TrackSimulator.simulate(w, quiet, Sky.CLEAR, 1);
                    return 100 * (made.recordedM().orElseThrow() / w.referenceM() - 1);
                  })
              .average()
              .orElseThrow());
    return errors;
  }
}
