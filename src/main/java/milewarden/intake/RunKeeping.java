package milewarden.intake;

import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import milewarden.accuracy.Engine;
import milewarden.intake.doubt.ClockCheck;
import milewarden.intake.tag.Gap;
import milewarden.intake.tag.LeftOut;
import milewarden.intake.tag.RunTags;
import milewarden.intake.tag.TagSettling;
import milewarden.intake.tag.TagWords;
import milewarden.store.Id.FileId;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.file.FileQueue;
import milewarden.store.file.Held;
import milewarden.store.file.SheetRows;
import milewarden.store.file.Tags;
import milewarden.store.judged.Marks;
import milewarden.store.run.Exclusions;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.run.ReferenceTracks;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.run.Sessions;
import milewarden.store.run.WrittenMeasurement;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import milewarden.verdict.PassEvidence.Exclusion;

/** Writes what became of a recording: its tags, run, results and the mark to judge. */
final class RunKeeping {
  // These are found anew at each measuring; what the tester said stays.
  private static final Set<TagSource> FOUND =
      EnumSet.of(
          TagSource.SHEET,
          TagSource.SIDECAR,
          TagSource.FOLDER,
          TagSource.FILE,
          TagSource.RECOGNISED,
          TagSource.DEFAULT);
  // What tags left out, their taking back lets count again; anybody else's word stays.
  private static final Set<String> BY_TAGS =
      Stream.of(TagSource.values()).map(LeftOut::by).collect(Collectors.toUnmodifiableSet());

  private final InboxSettings settings;
  private final ZoneId zone;

  RunKeeping(InboxSettings settings, ZoneId zone) {
    this.settings = settings;
    this.zone = zone;
  }

  /** Keeps a fate, unless somebody said something else meanwhile: then the file comes again. */
  void keep(Tx tx, Recording recording, Found found, Together together) {
    FileId file = recording.file().id();
    Optional<Held> held = together.held(file);
    if (held.isEmpty()) return;
    if (recording.isStale(tx, together.said())) {
      FileQueue.again(tx, file);
      return;
    }
    Fate fate = found.fate().fold(m -> beside(tx, recording, m), t -> t, w -> w, r -> r);
    words(tx, recording, fate.words(), together);
    boolean measured =
        fate.fold(
            m -> measured(tx, recording, m, found.written(m), held.get(), together),
            t -> {
              String session = reference(tx, file, t);
              FileQueue.measured(tx, file, IntakeWords.keptAsReference(session));
              return false;
            },
            w -> {
              FileQueue.waiting(tx, file, missing(w.gaps()), w.why(), w.offers());
              return false;
            },
            r -> {
              FileQueue.refused(tx, file, missing(r.gaps()), r.why());
              return false;
            });
    if (measured) together.measured(file);
  }

  private static List<TagName> missing(List<Gap> gaps) {
    return gaps.stream().map(Gap::name).distinct().toList();
  }

  /** Asks where the other recordings of its session say that its clock stood wrong. */
  private Fate beside(Tx tx, Recording recording, Fate.Measured fate) {
    Optional<Sessions.Session> session = fate.tags().session().flatMap(s -> Sessions.find(tx, s));
    boolean said = TagSettling.settle(fate.words()).value(TagName.CLOCK).isPresent();
    if (recording.counts() || said || session.isEmpty() || hasNear(tx, session.get(), fate))
      return fate;
    List<ClockCheck.Span> others =
        Runs.ofSession(tx, session.get().id()).stream()
            .filter(run -> run.file().isPresent())
            .map(run -> span(run.unitName(), run.facts().startedAt(), run.facts().endedAt()))
            .toList();
    return ClockCheck.beside(
            span(fate.tags().unit(), fate.start(), fate.end()),
            others,
            settings.sessionGap(),
            session.get().name())
        .map(d -> Asking.of(fate, List.of(d)))
        .orElse(fate);
  }

  /**
   * True where another recording of the session lies so near that there is nothing to ask: asked of
   * the store by itself, so that a session of many isn't read anew for each of them.
   */
  private boolean hasNear(Tx tx, Sessions.Session session, Fate.Measured fate) {
    // Times are held against each other as text there, which tells whole seconds apart.
    Duration near = settings.sessionGap().minusSeconds(1);
    return Runs.isInSessionBetween(
        tx, session.id(), fate.start().minus(near), fate.end().orElse(fate.start()).plus(near));
  }

  private static ClockCheck.Span span(
      String unit, java.time.Instant start, Optional<java.time.Instant> end) {
    return new ClockCheck.Span(unit, start, end.orElse(start));
  }

  private static void words(Tx tx, Recording recording, List<TagWords> words, Together together) {
    if (words.isEmpty()) return;
    FileId file = recording.file().id();
    Set<TagSource> before = EnumSet.noneOf(TagSource.class);
    together.said().tags(recording.file()).forEach(tag -> before.add(tag.source()));
    before.retainAll(FOUND);
    for (TagSource source : before) Tags.drop(tx, file, source);
    for (TagWords w : words)
      if (FOUND.contains(w.source()))
        together.add(new Tags.Said(file, w.pass(), w.source(), w.values(), w.origin()));
  }

  private boolean measured(
      Tx tx,
      Recording recording,
      Fate.Measured fate,
      WrittenMeasurement written,
      Held held,
      Together together) {
    FileId file = recording.file().id();
    boolean quiet = held.anew();
    if (held.reference()) ReferenceTracks.drop(tx, file);
    Optional<Runs.Run> before = together.said().run(recording.file());
    // A run that moves to another model changes what the old one rests on, too.
    before.ifPresent(b -> together.mark(b.model(), quiet));
    Runs.Facts facts = facts(tx, together.unit(fate.tags()), fate.tags(), fate.start(), fate.end());
    RunId run = Runs.ofFile(tx, file, before.map(Runs.Run::id), facts);
    Results.put(
        tx,
        run,
        Engine.VERSION,
        fate.course(),
        written,
        FateFinder.options(fate.tags()),
        together.passes());
    if (before.isPresent() || !fate.tags().excluded().isEmpty()) exclude(tx, run, fate.tags());
    Optional<RunId> heldFor = before.flatMap(Runs.Run::heldFor);
    // Held for itself while it was the reference track of its session: now it is a run again.
    if (heldFor.filter(run::equals).isPresent()) Runs.hold(tx, run, Optional.empty());
    if (heldFor.filter(h -> !h.equals(run)).isEmpty()) SameRecording.hold(tx, run, facts);
    // A row that stood for a shown distance alone and now names this track counts once.
    for (SheetRows.SheetRow row : recording.rows())
      Runs.findOfRow(tx, row.words().key())
          .ifPresent(alone -> Runs.hold(tx, alone.id(), Optional.of(run)));
    together.mark(run, quiet);
    return true;
  }

  /** Name of the session whose reference track it is now. */
  private String reference(Tx tx, FileId file, Fate.Reference track) {
    LocalDate date = track.start().atZone(zone).toLocalDate();
    Sessions.Session session = session(tx, track.session(), track.start(), date);
    ReferenceTracks.put(tx, file, session.id(), track.start(), track.end());
    // What was a run before counts no more, and is kept.
    Runs.findOfFile(tx, file)
        .ifPresent(
            run -> {
              Runs.hold(tx, run.id(), Optional.of(run.id()));
              Marks.mark(tx, run.model());
            });
    return session.name();
  }

  private Sessions.Session session(
      Tx tx, Optional<String> name, java.time.Instant start, LocalDate date) {
    return name.isPresent()
        ? Sessions.tagged(tx, name.get(), start, date)
        : Sessions.untagged(tx, start, date, settings.sessionGap());
  }

  /** The unit, release and session of a run; what is named for the first time is made. */
  Runs.Facts facts(Tx tx, RunTags tags, java.time.Instant start, Optional<java.time.Instant> end) {
    return facts(tx, Models.unit(tx, tags.unit(), tags.model()), tags, start, end);
  }

  private Runs.Facts facts(
      Tx tx,
      Models.Unit unit,
      RunTags tags,
      java.time.Instant start,
      Optional<java.time.Instant> end) {
    LocalDate date = start.atZone(zone).toLocalDate();
    tags.control().ifPresent(control -> Models.control(tx, unit.id(), control));
    Firmware.Known firmware = Firmware.seen(tx, unit.model(), tags.firmware(), date);
    Sessions.Session session = session(tx, tags.session(), start, date);
    return new Runs.Facts(
        session.id(),
        unit.id(),
        firmware.id(),
        tags.course(),
        tags.carriage(),
        tags.gait(),
        tags.settings(),
        start,
        end,
        tags.operator(),
        tags.notes());
  }

  /** Brings the exclusions that a sheet or an edit asks for in line with what is said now. */
  static void exclude(Tx tx, RunId run, RunTags tags) {
    Map<Integer, LeftOut> wanted = new java.util.HashMap<>(tags.excluded());
    for (Exclusions.Excluded known : Exclusions.of(tx, run)) {
      if (known.liftedAt().isPresent()) continue;
      Exclusion stands = known.exclusion();
      LeftOut now = wanted.get(known.pass());
      boolean same = now != null && now.reason() == stands.reason();
      // One that stands is enough; a tag's own goes when the tag is taken back.
      if (same || !BY_TAGS.contains(stands.by())) wanted.remove(known.pass());
      else if (now == null) Exclusions.lift(tx, run, known.pass(), stands.by());
    }
    wanted.forEach(
        (pass, out) ->
            Exclusions.exclude(tx, run, pass, out.reason(), out.by(), tags.notes().orElse("")));
  }
}
