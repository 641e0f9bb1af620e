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
import milewarden.intake.tag.RunTags;
import milewarden.intake.tag.TagReader;
import milewarden.intake.tag.TagReading;
import milewarden.intake.tag.TagSettling;
import milewarden.intake.tag.TagSettling.Settled;
import milewarden.intake.tag.TagWords;
import milewarden.store.Id.RunId;
import milewarden.store.Marks;
import milewarden.store.ReceivedFiles.Received;
import milewarden.store.Recomputations;
import milewarden.store.Results;
import milewarden.store.Runs;
import milewarden.store.SheetRows;
import milewarden.store.Tx;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import milewarden.verdict.PassEvidence.Exclusion;

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
    List<Gap> gaps = new ArrayList<>();
    Optional<RunTags> tags =
        TagReader.read(settled).fold(c -> Optional.of(c.tags()), i -> gaps(i, gaps));
    Optional<ReferenceCourse> course =
        settled.value(TagName.COURSE).flatMap(s -> known.course(s.toLowerCase(Locale.ROOT)));
    if (course.isEmpty() && settled.value(TagName.COURSE).isPresent())
      gaps.add(new Gap(TagName.COURSE, Gap.Kind.UNKNOWN, settled.value(TagName.COURSE).orElse("")));
    Optional<Instant> start = tags.flatMap(t -> RunStart.of(t, zone));
    if (tags.isPresent() && start.isEmpty()) gaps.add(new Gap(TagName.DATE, Gap.Kind.MISSING, ""));
    Optional<Reading> shown = tags.flatMap(t -> t.shown().stream().findFirst());
    boolean failed = tags.isPresent() && failed(tags.get());
    if (tags.isPresent() && shown.isEmpty() && !failed)
      gaps.add(new Gap(TagName.SHOWN, Gap.Kind.MISSING, ""));
    if (gaps.isEmpty() && tags.isPresent() && course.isPresent()) {
      RunId run = run(tx, row, tags.get(), start.orElseThrow(), quiet);
      if (shown.isPresent()) measure(tx, run, tags.get(), course.get(), shown.get());
      RunKeeping.exclude(tx, run, tags.get());
      Recomputations.done(tx, run);
      Marks.ofRun(tx, run, quiet);
    }
    SheetRows.missing(tx, row.id(), gaps.stream().map(Gap::name).distinct().toList());
    return gaps;
  }

  private static Optional<RunTags> gaps(TagReading.Incomplete incomplete, List<Gap> into) {
    into.addAll(incomplete.gaps());
    return Optional.empty();
  }

  // A device that found no position, crashed or lost its file shows nothing: that it was run
  // counts.
  private static boolean failed(RunTags tags) {
    Exclusion.Reason reason = tags.excluded().get(TagWords.WHOLE);
    return reason != null && reason.deviceFault();
  }

  private RunId run(Tx tx, SheetRows.SheetRow row, RunTags tags, Instant start, boolean quiet) {
    Runs.findOfRow(tx, row.words().key())
        .ifPresent(before -> Marks.mark(tx, before.model(), quiet));
    Runs.Facts facts = keeping.facts(tx, tags, start, Optional.empty());
    return Runs.ofRow(tx, row.words().key(), facts);
  }

  private static void measure(
      Tx tx, RunId run, RunTags tags, ReferenceCourse course, Reading shown) {
    ShownRun found = ShownRun.measure(course, tags.laps().orElse(1), shown);
    Direction direction = tags.direction().orElse(Direction.FORWARD);
    Results.put(tx, run, Engine.VERSION, course, found, direction);
  }
}
