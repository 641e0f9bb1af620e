package milewarden.intake.doubt;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.function.Function;
import milewarden.format.TrackFormats;
import milewarden.format.fixes.Rereadable;
import milewarden.format.text.ColumnAnswers;
import milewarden.intake.tag.ClockAnswer;
import milewarden.intake.tag.TagReader;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.TagName;
import milewarden.track.Track;
import milewarden.track.TrackRead;

/** What a tester answered of a recording, and its bytes read with that. The bytes never change. */
public final class Answered {
  private final Function<TagName, Optional<String>> said;
  private final ZoneId zone;

  /**
   * @param said the word that holds for the whole recording
   * @param zone of local times
   */
  public Answered(Function<TagName, Optional<String>> said, ZoneId zone) {
    this.said = said;
    this.zone = zone;
  }

  /** The reading of the bytes, its columns as answered; its times as they stand in the file. */
  public TrackRead read(Rereadable.Source bytes) {
    ColumnAnswers columns =
        said.apply(TagName.COLUMNS).flatMap(ColumnAnswers::of).orElse(ColumnAnswers.NONE);
    return TrackFormats.read(bytes, columns);
  }

  /** The track with its times as answered; empty where the bytes can't be read. */
  public Optional<Track> track(Rereadable.Source bytes) {
    return read(bytes)
        .fold(
            u -> Optional.of(shift(u.track(), u.drops()).map(u.track()::movedBy).orElse(u.track())),
            r -> Optional.empty());
  }

  /** Whether the tester said how its clock stood. */
  public boolean clock() {
    return said.apply(TagName.CLOCK).flatMap(ClockAnswer::of).isPresent();
  }

  /** What is to be added to its times: empty where nothing is said, or nothing is to be moved. */
  public Optional<Duration> shift(Track track, Drops drops) {
    if (drops.count(Issue.Kind.TIME_WITHOUT_DATE) > 0) return dated(track);
    return said.apply(TagName.CLOCK)
        .flatMap(ClockAnswer::of)
        .map(a -> a.shift(track, zone))
        .filter(by -> !by.isZero());
  }

  // Its times of day are UTC and count from 1970: of the days around the date, the one is meant on
  // which it began by local time.
  private Optional<Duration> dated(Track track) {
    Optional<LocalDate> date =
        said.apply(TagName.DATE).flatMap(t -> TagReader.parse(t, LocalDate::parse));
    Optional<Instant> start = track.startedAt();
    if (date.isEmpty() || start.isEmpty()) return Optional.empty();
    LocalDate first = start.get().atZone(ZoneOffset.UTC).toLocalDate();
    for (int day : new int[] {0, -1, 1}) {
      Duration by = Duration.ofDays(date.get().toEpochDay() + day - first.toEpochDay());
      if (start.get().plus(by).atZone(zone).toLocalDate().equals(date.get()))
        return Optional.of(by);
    }
    throw new IllegalStateException("no day of " + date.get() + " in " + zone);
  }
}
