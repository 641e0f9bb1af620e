package milewarden.intake;

import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import milewarden.accuracy.Engine;
import milewarden.accuracy.ShownRun;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.device.Reading;
import milewarden.intake.tag.FolderTags;
import milewarden.intake.tag.Gap;
import milewarden.intake.tag.LeftOut;
import milewarden.intake.tag.RunTags;
import milewarden.intake.tag.TagReader;
import milewarden.intake.tag.TagReading;
import milewarden.intake.tag.TagSettling;
import milewarden.intake.tag.TagSettling.Settled;
import milewarden.intake.tag.TagWords;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.SheetRows;
import milewarden.store.judged.Marks;
import milewarden.store.judged.Recomputations;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/** Runs that a field sheet knows by their shown distance alone: they count like any other. */
final class RowRuns {
  private final InboxSettings settings;
  private final ZoneId zone;
  private final RunKeeping keeping;

  RowRuns(InboxSettings settings, ZoneId zone, RunKeeping keeping) {
    this.settings = settings;
    this.zone = zone;
    this.keeping = keeping;
  }

  /**
   * Makes or changes the run of a row.
   *
   * @return what the row still needs; nothing where its run is kept
   */
  List<Gap> keep(Tx tx, SheetRows.SheetRow row, Received sheet, Known known) {
    return keep(tx, row, sheet, known, false);
  }

  /** Measures the run of a row that says what it said before. */
  void again(Tx tx, SheetRows.SheetRow row, Received sheet, Known known) {
    keep(tx, row, sheet, known, true);
  }

  private List<Gap> keep(
      Tx tx, SheetRows.SheetRow row, Received sheet, Known known, boolean quiet) {
    List<Gap> gaps = new ArrayList<>();
    read(row, sheet, known, gaps).ifPresent(ready -> run(tx, row, ready, quiet));
    SheetRows.missing(tx, row.id(), gaps.stream().map(Gap::name).distinct().toList());
    return gaps;
  }

  /** A row with all that its run needs. */
  record Ready(RunTags tags, ReferenceCourse course, Instant start, Optional<Reading> shown) {
    /** Empty where the device failed and showed nothing. */
    Optional<ShownRun> measure() {
      return shown.map(s -> ShownRun.measure(course, tags.laps().orElse(1), s));
    }

    Direction direction() {
      return tags.direction().orElse(Direction.FORWARD);
    }
  }

  /**
   * What a row says, where it says enough.
   *
   * @param gaps takes what it still needs
   */
  Optional<Ready> read(SheetRows.SheetRow row, Received sheet, Known known, List<Gap> gaps) {
    List<TagWords> words =
        List.of(
            new TagWords(
                TagWords.WHOLE,
                TagSource.SHEET,
                row.words().tags(),
                "session.csv, row " + row.words().rowNumber()),
            FolderTags.of(sheet.path(), known.devices()),
            TagWords.ofWhole(TagSource.DEFAULT, settings.defaults(), "milewarden.yaml"));
    Settled settled = TagSettling.settle(words);
    Optional<RunTags> tags =
        TagReader.read(settled).fold(c -> Optional.of(c.tags()), i -> gaps(i, gaps));
    Optional<String> slug = settled.value(TagName.COURSE).map(s -> s.toLowerCase(Locale.ROOT));
    Optional<ReferenceCourse> course = slug.flatMap(known::course);
    if (course.isEmpty() && slug.isPresent())
      gaps.add(
          known.unread().contains(slug.get())
              ? new Gap(TagName.COURSE, Gap.Kind.UNREAD, slug.get())
              : new Gap(
                  TagName.COURSE, Gap.Kind.UNKNOWN, settled.value(TagName.COURSE).orElse("")));
    Optional<Instant> start = tags.flatMap(t -> RunStart.of(t, zone));
    if (tags.isPresent() && start.isEmpty()) gaps.add(new Gap(TagName.DATE, Gap.Kind.MISSING, ""));
    Optional<Reading> shown = tags.flatMap(t -> t.shown().stream().findFirst());
    boolean failed = tags.isPresent() && failed(tags.get());
    if (tags.isPresent() && shown.isEmpty() && !failed)
      gaps.add(new Gap(TagName.SHOWN, Gap.Kind.MISSING, ""));
    if (!gaps.isEmpty() || tags.isEmpty() || course.isEmpty()) return Optional.empty();
    return Optional.of(new Ready(tags.get(), course.get(), start.orElseThrow(), shown));
  }

  private static Optional<RunTags> gaps(TagReading.Incomplete incomplete, List<Gap> into) {
    into.addAll(incomplete.gaps());
    return Optional.empty();
  }

  // A device that found no position, crashed or lost its file shows nothing: that it was run
  // counts.
  private static boolean failed(RunTags tags) {
    LeftOut leftOut = tags.excluded().get(TagWords.WHOLE);
    return leftOut != null && leftOut.reason().deviceFault();
  }

  private void run(Tx tx, SheetRows.SheetRow row, Ready ready, boolean quiet) {
    Runs.findOfRow(tx, row.words().key())
        .ifPresent(before -> Marks.mark(tx, before.model(), quiet));
    Runs.Facts facts = keeping.facts(tx, ready.tags(), ready.start(), Optional.empty());
    RunId run = Runs.ofRow(tx, row.words().key(), facts);
    ready
        .shown()
        .ifPresent(
            s ->
                Results.put(
                    tx,
                    run,
                    Engine.VERSION,
                    ready.course(),
                    ready.measure().orElseThrow(),
                    ready.direction(),
                    s));
    RunKeeping.exclude(tx, run, ready.tags());
    Recomputations.done(tx, run);
    Marks.ofRun(tx, run, quiet);
  }
}
