package milewarden.intake.doubt;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import milewarden.intake.tag.ClockAnswer;
import milewarden.report.AskedWords;
import milewarden.store.file.Offer;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.TagName;
import milewarden.track.Track;

/**
 * Whether a recording's clock can have stood right. A clock in another zone is off by quarter
 * hours, a receiver's week number by 1,024 weeks; whatever else it is off by is not proposed.
 *
 * @param zone of local times
 * @param came when the file came in
 */
public record ClockCheck(ZoneId zone, Instant came) {
  // The system's own time begins here: IS-GPS-200.
  private static final Instant FIRST = Instant.parse("1980-01-06T00:00:00Z");
  // A clock of the receiving computer may be a little behind.
  private static final Duration SLACK = Duration.ofDays(1);

  // Common practice, no source: times are written down within minutes of the start, and devices
  // that are carried together are started within two.
  private static final Duration WRITTEN = Duration.ofMinutes(5);
  private static final Duration TOGETHER = Duration.ofMinutes(2);
  // A quarter of an hour is a late start, not another zone: neighbours differ by half an hour.
  private static final long LEAST_MINUTES = 30;
  private static final long MOST_MINUTES = 26 * 60;
  private static final long QUARTER = 15;

  /** When another recording of the session was. */
  public record Span(String unit, Instant start, Instant end) {}

  /**
   * What the file itself and what is written down of it leave open.
   *
   * @param written when it was begun, where a tester or a field sheet says so of this recording
   */
  public Optional<Doubt> of(Track track, Drops drops, Optional<Instant> written) {
    if (drops.count(Issue.Kind.TIME_WITHOUT_DATE) > 0)
      return Optional.of(Doubt.of(TagName.DATE, "no-date", AskedWords.withoutDate(), List.of()));
    Optional<Instant> start = track.startedAt();
    if (start.isEmpty()) return Optional.empty();
    Optional<Doubt> rolled = rolledOver(start.get());
    if (rolled.isPresent()) return rolled;
    Optional<Duration> by = written.flatMap(w -> quarters(start.get(), w, WRITTEN));
    if (drops.count(Issue.Kind.TIME_WITHOUT_ZONE) > 0) return withoutZone(start.get(), by);
    return by.filter(b -> !b.isZero()).map(b -> moving(b, AskedWords.againstSheet(b)));
  }

  private Optional<Doubt> rolledOver(Instant start) {
    long times =
        Duration.between(start, came.plus(SLACK)).toMillis() / ClockAnswer.ROLLOVER.toMillis();
    if (times < 1 || start.isBefore(FIRST)) return Optional.empty();
    Duration by = ClockAnswer.ROLLOVER.multipliedBy(times);
    String sentence = AskedWords.rollover(date(start), date(start.plus(by)), times * 1024);
    return Optional.of(moving(by, sentence));
  }

  private static LocalDate date(Instant at) {
    return at.atZone(ZoneOffset.UTC).toLocalDate();
  }

  private Optional<Doubt> withoutZone(Instant start, Optional<Duration> by) {
    if (by.isPresent())
      return by.filter(b -> !b.isZero()).map(b -> moving(b, AskedWords.withoutZone(b)));
    if (ClockAnswer.local(start, zone).isZero()) return Optional.empty();
    return Optional.of(asking(List.of(ClockAnswer.LOCAL), AskedWords.withoutZone(zone.getId())));
  }

  /**
   * Whether a recording lies where no other of its session is, and would begin with one of another
   * unit if its clock stood in another zone.
   *
   * @param near as far apart recordings of a session usually are
   */
  public static Optional<Doubt> beside(Span its, List<Span> others, Duration near, String session) {
    if (others.stream().anyMatch(o -> apart(its, o).compareTo(near) <= 0)) return Optional.empty();
    for (Span other : others) {
      Optional<Duration> by =
          quarters(its.start(), other.start(), TOGETHER).filter(b -> !b.isZero());
      if (by.isEmpty() || other.unit().equals(its.unit())) continue;
      Span moved = new Span(its.unit(), its.start().plus(by.get()), its.end().plus(by.get()));
      boolean free =
          others.stream().noneMatch(o -> o.unit().equals(its.unit()) && apart(moved, o).isZero());
      if (free) return Optional.of(moving(by.get(), AskedWords.againstSession(by.get(), session)));
    }
    return Optional.empty();
  }

  private static Duration apart(Span a, Span b) {
    if (a.end().isBefore(b.start())) return Duration.between(a.end(), b.start());
    if (b.end().isBefore(a.start())) return Duration.between(b.end(), a.start());
    return Duration.ZERO;
  }

  /**
   * The quarter hours from one to the other; zero where they agree, empty where no zone explains
   * it.
   */
  private static Optional<Duration> quarters(Instant from, Instant to, Duration within) {
    Duration off = Duration.between(from, to);
    long minutes = Math.round(off.toSeconds() / 60.0 / QUARTER) * QUARTER;
    if (Math.abs(minutes) < LEAST_MINUTES)
      return off.abs().toMinutes() < LEAST_MINUTES ? Optional.of(Duration.ZERO) : Optional.empty();
    Duration by = Duration.ofMinutes(minutes);
    if (Math.abs(minutes) > MOST_MINUTES || off.minus(by).abs().compareTo(within) > 0)
      return Optional.empty();
    return Optional.of(by);
  }

  private static Doubt moving(Duration by, String sentence) {
    return asking(List.of(ClockAnswer.movedBy(by)), sentence);
  }

  private static Doubt asking(List<ClockAnswer> proposed, String sentence) {
    List<String> answers =
        java.util.stream.Stream.concat(
                proposed.stream(), java.util.stream.Stream.of(ClockAnswer.AS_READ))
            .map(ClockAnswer::code)
            .toList();
    return Doubt.of(
        TagName.CLOCK, "clock", sentence, List.of(new Offer(TagName.CLOCK, "", answers)));
  }
}
