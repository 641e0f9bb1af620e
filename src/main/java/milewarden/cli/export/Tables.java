package milewarden.cli.export;

import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.stream.Collectors;
import milewarden.store.ChangeRecord;
import milewarden.store.judged.Verdicts;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.units.LengthRange;
import milewarden.units.PercentRange;
import milewarden.verdict.PublishedVerdict;

/** What is exported, column by column: the files are written from this, and the dictionary too. */
final class Tables {
  private static final String OF_RUN = "the run, as its id in runs.csv";
  private static final String PERCENT = "%";
  private static final String METRES = "m";

  static final Table<Runs.Run> RUNS =
      new Table<>(
          "runs.csv",
          List.of(
              Column.of("id", "number of the run in this store", r -> r.id().value()),
              Column.of("session", "name of the session", r -> r.sessionName()),
              Column.of("date", "local day of the session", r -> r.date()),
              Column.of("model", "the device's model", r -> r.modelName()),
              Column.of("unit", "the one device", r -> r.unitName()),
              Column.of("control", "true for a unit whose firmware is kept", r -> r.control()),
              Column.of("firmware", "its firmware, as the tester wrote it", r -> r.firmware()),
              Column.of("course", "the reference course", r -> r.facts().course()),
              Column.of("carriage", "how it was carried", r -> r.facts().carriage().code()),
              Column.of("gait", "how it was moved", r -> r.facts().gait().code()),
              Column.of("settings", "its settings as one text", r -> r.facts().settings()),
              Column.of("started_at", "begin, UTC", r -> r.facts().startedAt()),
              Column.of("ended_at", "end, UTC; empty if unknown", r -> r.facts().endedAt()),
              Column.of("operator", "who carried it", r -> r.facts().operator()),
              Column.of("notes", "the tester's words", r -> r.facts().notes()),
              Column.of(
                  "file_id",
                  "the received recording; empty for a shown distance alone",
                  r -> r.file().map(f -> f.value())),
              Column.of(
                  "held_for",
                  "the run that this one perhaps repeats; a held run counts nowhere",
                  r -> r.heldFor().map(h -> h.value()))));

  static final Table<Results.Summary> RESULTS =
      new Table<>(
          "results.csv",
          List.of(
              Column.of("id", "number of the result in this store", r -> r.id().value()),
              Column.of("run_id", OF_RUN, r -> r.run().value()),
              Column.of("pass", "which pass of the run, from 1", r -> r.pass()),
              Column.of("direction", "along the course or against it", r -> r.direction().code()),
              Column.of("on_course", "false where it left the course", r -> r.onCourse()),
              Column.of(
                  "track_resolvable",
                  "false where the positions are too coarse for a track length",
                  r -> r.trackResolvable()),
              Column.of("started_at", "begin of the pass, UTC", r -> r.startedAt()),
              Column.of("duration", "s", "from begin to end of the pass", r -> r.durationS()),
              metres(
                  "reference", "length of the pass by the course", r -> r.distances().referenceM()),
              metres(
                  "horizontal_reference",
                  "the same, in the plane",
                  r -> r.distances().horizontalReferenceM()),
              metres("track", "length of the track", r -> r.distances().trackM()),
              metres("recorded", "distance in the file", r -> r.distances().recordedM()),
              metres(
                  "shown", "distance on the display, as read", r -> r.distances().shownAsReadM()),
              metres(
                  "shown_low",
                  "the least that the display's rule allows",
                  r -> r.distances().shownM().map(LengthRange::lowM)),
              metres(
                  "shown_high",
                  "the most that the display's rule allows",
                  r -> r.distances().shownM().map(LengthRange::highM)),
              metres("display_step", "step of the display", r -> r.displayStepM()),
              error("track_error", "of the track", r -> r.errors().trackPercent()),
              error(
                  "recorded_error", "of the recorded distance", r -> r.errors().recordedPercent()),
              error(
                  "shown_error",
                  "of the shown distance as read",
                  r -> r.errors().shownAsReadPercent()),
              error(
                  "shown_error_low",
                  "of the shown distance, at least",
                  r -> r.errors().shownPercent().map(PercentRange::low)),
              error(
                  "shown_error_high",
                  "of the shown distance, at most",
                  r -> r.errors().shownPercent().map(PercentRange::high)),
              metres("slope", "step of the ladder: slope", r -> r.ladder().slopeM()),
              metres("ends", "step of the ladder: begin and end", r -> r.ladder().endsM()),
              metres("line", "step of the ladder: line", r -> r.ladder().lineM()),
              metres("backtrack", "step of the ladder: backtrack", r -> r.ladder().backtrackM()),
              metres("weave", "step of the ladder: weave", r -> r.ladder().weaveM()),
              metres("bend", "step of the ladder: bend", r -> r.ladder().bendM()),
              metres("chord", "step of the ladder: chord", r -> r.ladder().chordM()),
              metres("source", "step of the ladder: source", r -> r.ladder().sourceM()),
              Column.of(
                  "left_out",
                  "why it counts nowhere; empty where it counts",
                  r -> r.exclusion().map(x -> x.reason())),
              Column.of("left_out_by", "who left it out", r -> r.exclusion().map(x -> x.by())),
              Column.of(
                  "left_out_words", "in whose words", r -> r.exclusion().map(x -> x.words()))));

  static final Table<VerdictRow> VERDICTS =
      new Table<>(
          "verdicts.csv",
          List.of(
              Column.of("id", "number of the verdict in this store", r -> r.line().id().value()),
              Column.of("model", "the device's model", VerdictRow::model),
              Column.of("number", "number among the model's verdicts", r -> r.line().number()),
              Column.of("firmware", "the release that it is of", r -> r.line().firmware()),
              Column.of("stands", "true where the public reads it today", r -> r.line().stands()),
              Column.of("published_at", "when, UTC", r -> r.line().publishedAt()),
              Column.of("published_by", "by whom", r -> r.line().by()),
              Column.of("words", "what was published", r -> r.line().words()),
              Column.of(
                  "mean_error",
                  PERCENT,
                  "mean error then, positive when the device reads long",
                  r -> r.verdict().map(v -> v.figures().meanPercent())),
              Column.of(
                  "expanded_uncertainty",
                  PERCENT,
                  "expanded uncertainty of that mean; empty where none could be given",
                  r -> r.verdict().map(v -> v.figures().expandedUncertaintyPercent())),
              Column.of(
                  "sessions",
                  "sessions behind it",
                  r -> r.verdict().map(v -> v.figures().sessions())),
              Column.of(
                  "decisions",
                  "each purpose and its decision, parted by semicolons",
                  r -> r.verdict().map(Tables::decisions)),
              Column.of(
                  "replaces",
                  "number of the verdict that it replaced",
                  r ->
                      r.verdict()
                          .flatMap(v -> v.replaces())
                          .map(PublishedVerdict.Replaced::number)),
              Column.of(
                  "withdrawn_at",
                  "when it was taken back, UTC",
                  r -> r.line().withdrawn().map(Verdicts.Withdrawn::at)),
              Column.of(
                  "withdrawn_words",
                  "why it was taken back",
                  r -> r.line().withdrawn().map(Verdicts.Withdrawn::words))));

  private Tables() {}

  static final Table<ChangeRecord.Change> CHANGES =
      new Table<>(
          "changes.csv",
          List.of(
              Column.of("id", "number of the change in this store", c -> c.id()),
              Column.of("at", "when, UTC", c -> c.at()),
              Column.of(
                  "who",
                  "a person, a token, this machine, the command line or the server",
                  c -> c.actor().words()),
              Column.of(
                  "what",
                  "tag, policy, course, verdict, person or token",
                  c -> c.what().name().toLowerCase(Locale.ROOT)),
              Column.of("subject", "of it, by its name", c -> c.subject()),
              Column.of("words", "what was changed", c -> c.words())));

  static List<Table<?>> all() {
    return List.of(RUNS, RESULTS, VERDICTS, CHANGES);
  }

  private static Column<Results.Summary> metres(
      String name, String meaning, Function<Results.Summary, Object> value) {
    return Column.of(name, METRES, meaning, value);
  }

  private static Column<Results.Summary> error(
      String name, String of, Function<Results.Summary, Object> value) {
    return Column.of(
        name, PERCENT, "error " + of + ", of the reference, positive when it reads long", value);
  }

  private static String decisions(PublishedVerdict verdict) {
    return verdict.decisions().stream()
        .map(d -> d.purpose().code() + ": " + d.decision().name().toLowerCase(Locale.ROOT))
        .collect(Collectors.joining("; "));
  }
}
