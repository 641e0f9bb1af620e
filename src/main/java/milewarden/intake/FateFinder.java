package milewarden.intake;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.accuracy.reference.ReferenceTrack;
import milewarden.course.ReferenceCourse;
import milewarden.intake.doubt.Answered;
import milewarden.intake.doubt.ClockCheck;
import milewarden.intake.doubt.ColumnCheck;
import milewarden.intake.doubt.Doubt;
import milewarden.intake.tag.Gap;
import milewarden.intake.tag.GapWords;
import milewarden.intake.tag.Role;
import milewarden.intake.tag.RunTags;
import milewarden.intake.tag.TagReader;
import milewarden.intake.tag.TagSettling;
import milewarden.intake.tag.TagSettling.Settled;
import milewarden.intake.tag.TagWords;
import milewarden.matching.CourseChoice;
import milewarden.report.DamageWords;
import milewarden.report.IssueWords;
import milewarden.report.pass.PositionWords;
import milewarden.store.StoreUnavailable;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.track.Drops;
import milewarden.track.Issue;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import milewarden.track.Track;

/** Reads, places and measures a recording: no store, no clock, no file. */
final class FateFinder {
  // The clock of the receiving computer may be a little behind.
  private static final Duration SLACK = Duration.ofDays(1);

  /** Code of what waits for a course whose stored line is damaged. */
  static final String UNREAD_COURSE = "unread-course";

  private final Known known;
  private final InboxSettings settings;
  private final ZoneId zone;

  FateFinder(Known known, InboxSettings settings, ZoneId zone) {
    this.known = known;
    this.settings = settings;
    this.zone = zone;
  }

  Fate of(Recording recording) {
    try {
      return new Answered(recording::said, zone)
          .read(recording.bytes())
          .fold(
              u ->
                  OwnDraft.said(
                      withDrops(read(recording, u.track(), u.drops()), u.drops()),
                      recording.file().sha256()),
              r -> unread(recording, r.why()));
    } catch (StoreUnavailable e) {
      // It says nothing of the recording, whose bytes come from there.
      throw e;
    } catch (OutOfMemoryError e) {
      return new Fate.Refused(List.of(), IntakeWords.beyondMemory());
    } catch (RuntimeException e) {
      // Our mistake: with this file alone, the others go on.
      return new Fate.Refused(List.of(), IntakeWords.stumbled(e));
    }
  }

  private Fate unread(Recording recording, Issue why) {
    return ColumnCheck.of(List.of(why))
        .map(d -> Asking.of(recording.edits(), List.of(d)))
        .orElseGet(() -> refused(List.of(), why));
  }

  private Fate read(Recording recording, Track track, Drops drops) {
    boolean undated = drops.count(Issue.Kind.TIME_WITHOUT_DATE) > 0;
    Optional<Instant> known = undated ? Optional.empty() : track.startedAt();
    Settled settled = TagSettling.settle(words(recording, track, known));
    Answered answers = new Answered(settled::value, zone);
    Optional<Duration> by = answers.shift(track, drops);
    if (by.isPresent()) {
      Track moved = track.movedBy(by.get());
      Fate fate = placed(recording, moved, words(recording, moved, moved.startedAt()));
      return Asking.said(fate, by.get());
    }
    Fate fate = placed(recording, track, words(recording, track, known));
    List<Doubt> doubts = new ArrayList<>();
    ColumnCheck.of(drops.details()).ifPresent(doubts::add);
    if (!answers.clock())
      new ClockCheck(zone, recording.file().receivedAt())
          .of(track, drops, recording.written(settled, zone))
          .ifPresent(doubts::add);
    if (doubts.isEmpty() && !answers.clock()) fate = ahead(fate, track, recording);
    // What counts already is not taken back: it says what is odd about it.
    return recording.counts() ? Asking.noted(fate, doubts) : Asking.of(fate, doubts);
  }

  /** Says on a run that begins after it came in that its clock can't have stood right. */
  private static Fate ahead(Fate fate, Track track, Recording recording) {
    Instant came = recording.file().receivedAt();
    Optional<Instant> start = track.startedAt().filter(at -> at.isAfter(came.plus(SLACK)));
    return start.map(at -> Asking.ahead(fate, came, at)).orElse(fate);
  }

  private List<TagWords> words(Recording recording, Track track, Optional<Instant> start) {
    return recording.words(track, start, known.devices(), settings, zone);
  }

  private static Fate withDrops(Fate fate, Drops drops) {
    return fate.fold(
        m ->
            new Fate.Measured(
                m.words(), m.tags(), m.course(), m.found().withDrops(drops), m.start(), m.end()),
        r -> r,
        w -> w,
        r -> r);
  }

  private static Fate refused(List<TagWords> words, Issue why) {
    String code = why.kind().name().toLowerCase(Locale.ROOT).replace('_', '-');
    String sentence = IssueWords.of(why).sentence();
    return new Fate.Refused(words, new Reason(code, why.place().orElse(""), sentence));
  }

  private Fate placed(Recording recording, Track track, List<TagWords> words) {
    Settled settled = TagSettling.settle(words);
    if (Role.of(settled) == Role.REFERENCE) return reference(track, words, settled);
    if (settled.value(TagName.COURSE).isPresent())
      return tagged(track, words, settled, recording.counts());
    return known
        .index()
        .recognise(track)
        .fold(
            chosen -> recognised(track, words, chosen.course(), recording.counts()),
            ambiguous -> ambiguous(words, settled, ambiguous.courses()),
            none ->
                known.unread().isEmpty() ? noCourse(words, settled, none) : mayBeDamaged(words));
  }

  private static Fate reference(Track track, List<TagWords> words, Settled settled) {
    ReferenceTrack reference = ReferenceTrack.of(track);
    Optional<Instant> start = reference.startedAt();
    if (start.isEmpty())
      return new Fate.Refused(words, new Reason("no-time", "", PositionWords.noTimes()));
    return new Fate.Reference(
        words,
        settled.value(TagName.SESSION),
        start.get(),
        reference.endedAt().orElse(start.get()));
  }

  private Fate recognised(
      Track track, List<TagWords> words, ReferenceCourse course, boolean counts) {
    List<TagWords> more = new ArrayList<>(words);
    Map<TagName, String> tag = Map.of(TagName.COURSE, course.slug().text());
    more.add(TagWords.ofWhole(TagSource.RECOGNISED, tag, "its positions"));
    return tagged(track, more, TagSettling.settle(more), counts);
  }

  private static Fate ambiguous(
      List<TagWords> words, Settled settled, List<ReferenceCourse> courses) {
    String names = String.join(", ", courses.stream().map(c -> c.slug().text()).toList());
    List<Gap> gaps =
        TagReader.gaps(settled).stream()
            .map(
                g ->
                    g.name() == TagName.COURSE
                        ? new Gap(TagName.COURSE, Gap.Kind.AMBIGUOUS, names)
                        : g)
            .toList();
    return waiting(words, gaps, "ambiguous-course");
  }

  private static Fate noCourse(List<TagWords> words, Settled settled, CourseChoice.None none) {
    List<Gap> gaps = TagReader.gaps(settled);
    String sentence = IntakeWords.noCourse(none.nearest()) + GapWords.beside(gaps, words);
    return new Fate.Refused(words, gaps, new Reason("no-course", "", sentence));
  }

  private Fate mayBeDamaged(List<TagWords> words) {
    String courses = String.join(", ", known.unread());
    return new Fate.Waiting(
        words,
        List.of(new Gap(TagName.COURSE, Gap.Kind.UNREAD, courses)),
        new Reason(UNREAD_COURSE, "", DamageWords.mayBeOn(courses)));
  }

  private Fate tagged(Track track, List<TagWords> words, Settled settled, boolean counts) {
    String slug = settled.value(TagName.COURSE).orElseThrow().toLowerCase(Locale.ROOT);
    Optional<ReferenceCourse> course = known.course(slug);
    if (course.isEmpty()) {
      List<Gap> gaps = new ArrayList<>();
      boolean unread = known.unread().contains(slug);
      gaps.add(new Gap(TagName.COURSE, unread ? Gap.Kind.UNREAD : Gap.Kind.UNKNOWN, slug));
      gaps.addAll(TagReader.gaps(settled));
      return waiting(words, gaps, unread ? UNREAD_COURSE : "unknown-course");
    }
    return TagReader.read(settled)
        .fold(
            c ->
                timed(track, words, c.tags(), course.get())
                    .fold(m -> SettingsHold.of(m, track, settled, counts), t -> t, w -> w, r -> r),
            i -> waiting(words, i.gaps(), "missing-tags"));
  }

  private static Fate waiting(List<TagWords> words, List<Gap> gaps, String code) {
    return new Fate.Waiting(words, gaps, new Reason(code, "", GapWords.of(gaps, words)));
  }

  private Fate timed(Track track, List<TagWords> words, RunTags tags, ReferenceCourse course) {
    Optional<Instant> start = track.startedAt().or(() -> RunStart.of(tags, zone));
    if (start.isEmpty())
      return new Fate.Waiting(
          words,
          List.of(new Gap(TagName.DATE, Gap.Kind.MISSING, "")),
          new Reason("no-time", "", IntakeWords.noTime()));
    TrackMeasurement found = Measurer.measure(track, course, options(tags));
    if (found.passes().isEmpty()) return new Fate.Refused(words, noPass(found, course));
    if (found.findings().stream().anyMatch(f -> f.code() == Finding.Code.DIRECTION_UNSURE))
      return waiting(
          words,
          List.of(new Gap(TagName.DIRECTION, Gap.Kind.AMBIGUOUS, "forward, reverse")),
          "direction-unsure");
    return new Fate.Measured(words, tags, course, found, start.get(), track.endedAt());
  }

  static MeasureOptions options(RunTags tags) {
    return new MeasureOptions(
        tags.bounds(), tags.laps(), tags.direction(), tags.shown(), tags.gait());
  }

  private static Reason noPass(TrackMeasurement found, ReferenceCourse course) {
    Optional<Finding> why =
        found.findings().stream()
            .filter(f -> f.code() == Finding.Code.NO_COURSE || f.code() == Finding.Code.NO_PASS)
            .findFirst();
    String sentence =
        why.map(f -> IssueWords.of(f).sentence()).orElse(IntakeWords.noPass(course.slug().text()));
    return new Reason("no-pass", why.map(Finding::place).orElse(""), sentence);
  }
}
