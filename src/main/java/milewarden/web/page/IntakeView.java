package milewarden.web.page;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.intake.TagForm;
import milewarden.report.AskedWords;
import milewarden.report.Status;
import milewarden.report.Words;
import milewarden.report.page.IntakePage;
import milewarden.report.page.IntakePage.Field;
import milewarden.report.page.IntakePage.FileRow;
import milewarden.report.page.Links;
import milewarden.report.page.Option;
import milewarden.store.Id.FileId;
import milewarden.store.Queues;
import milewarden.store.Tx;
import milewarden.store.file.Offer;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;
import milewarden.store.file.Standings;
import milewarden.store.file.Standings.Standing;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.run.Runs;
import milewarden.track.TagName;
import milewarden.web.desk.Desk;

/** The stored files as the intake page shows them. */
final class IntakeView {
  // More rows than this are no help on one page; the counts above say how many there are.
  private static final int MOST_ROWS = 200;
  private static final int LATEST = 40;

  private final Desk desk;

  IntakeView(Desk desk) {
    this.desk = desk;
  }

  IntakePage page(Tx tx, Choice<Standing> state, String done, List<String> problems) {
    Map<Standing, Integer> counts = Standings.counts(tx);
    List<IntakePage.Group> groups = new ArrayList<>();
    groups.addAll(groups(tx, of(tx, Standing.WAITING)));
    groups.addAll(groups(tx, of(tx, Standing.OFF_COURSE)));
    List<Received> told = state.chosen().isPresent() ? List.of() : of(tx, Standing.REFUSED);
    return new IntakePage(
        IntakePage.sentence(
            counts.getOrDefault(Standing.WAITING, 0),
            counts.getOrDefault(Standing.OFF_COURSE, 0),
            counts.getOrDefault(Standing.RECEIVED, 0),
            counts.getOrDefault(Standing.REFUSED, 0),
            counts.values().stream().mapToInt(Integer::intValue).sum()),
        progress(tx),
        desk.inbox(),
        state.links(
            "/intake",
            Arrays.stream(Standing.values()).filter(counts::containsKey).toList(),
            s -> status(s).word() + " " + desk.digits().count(counts.getOrDefault(s, 0))),
        groups,
        rows(tx, told),
        rows(tx, latest(tx, state)),
        List.of(
            field(tx, TagName.UNIT, false),
            field(tx, TagName.FIRMWARE, false),
            field(tx, TagName.COURSE, false),
            field(tx, TagName.CARRIAGE, false),
            field(tx, TagName.GAIT, false),
            field(tx, TagName.SHOWN, false),
            field(tx, TagName.SHOWN_UNIT, false)),
        desk.troubles().get(),
        done,
        problems);
  }

  // What waits and what was refused stand above with what they lack: once is enough.
  private static List<Received> latest(Tx tx, Choice<Standing> state) {
    return Standings.page(
        tx,
        state.chosen().isPresent()
            ? state.chosen().stream()
            : Stream.of(Standing.RECEIVED, Standing.MEASURED, Standing.DUPLICATE),
        LATEST);
  }

  private Optional<IntakePage.Progress> progress(Tx tx) {
    Queues.Progress found = Queues.underWay(tx);
    return IntakePage.Progress.of(found.done(), found.of(), desk.digits());
  }

  private static List<Received> of(Tx tx, Standing standing) {
    return Standings.page(tx, standing, MOST_ROWS);
  }

  /** What a form asks for, and what it proposes. */
  private record Question(List<TagName> missing, List<Offer> offers) {}

  /** Files that lack the same tags, and have the same proposed, get one form. */
  private List<IntakePage.Group> groups(Tx tx, List<Received> waiting) {
    Map<Question, List<Received>> byQuestion = new LinkedHashMap<>();
    for (Received file : waiting)
      byQuestion
          .computeIfAbsent(new Question(asked(file), file.offers()), m -> new ArrayList<>())
          .add(file);
    List<IntakePage.Group> groups = new ArrayList<>();
    byQuestion.forEach(
        (question, files) ->
            groups.add(
                new IntakePage.Group(
                    waiting.get(0).state().name().charAt(0) + "" + groups.size() + "-",
                    desk.digits().counted(files.size(), "file")
                        + ": "
                        + Words.list(question.missing().stream().map(Words::of).toList())
                        + "?",
                    whyAll(rows(tx, files)),
                    Standing.of(files.get(0)) == Standing.OFF_COURSE ? IntakePage.meanwhile() : "",
                    rows(tx, files),
                    question.missing().stream()
                        .flatMap(name -> fields(tx, name, question.offers()))
                        .toList())));
    return groups;
  }

  // What holds for all is said once.
  private static String whyAll(List<FileRow> files) {
    List<String> reasons = files.stream().map(FileRow::why).distinct().toList();
    return reasons.size() == 1 ? reasons.get(0) : "";
  }

  /** One field, or one for each question that the tag answers. */
  private static Stream<Field> fields(Tx tx, TagName name, List<Offer> offers) {
    List<Offer> its = offers.stream().filter(o -> o.name() == name).toList();
    return its.isEmpty() ? Stream.of(field(tx, name, false)) : its.stream().map(IntakeView::field);
  }

  private static Field field(Offer offer) {
    String label = offer.subject().isEmpty() ? Words.of(offer.name()) : offer.subject();
    return new Field(
        offer.name().code(),
        label,
        offer.name() == TagName.CLOCK
            ? "Another shift can be written as clock in session.csv: -01:30, +12 days, or when it began:"
                + " began 2026-05-12 07:05."
            : "",
        false,
        offer.answers().stream().map(a -> new Option(a, AskedWords.answer(a))).toList(),
        List.of());
  }

  private static List<TagName> asked(Received file) {
    if (!file.missing().isEmpty()) return file.missing();
    return Standing.of(file) == Standing.OFF_COURSE
        ? List.of(TagName.COURSE)
        : List.of(TagName.DATE, TagName.TIME);
  }

  private List<FileRow> rows(Tx tx, List<Received> files) {
    Map<FileId, Runs.Run> runs =
        Runs.ofFiles(
            tx, files.stream().filter(f -> f.state() == State.MEASURED).map(Received::id).toList());
    return files.stream().map(f -> row(tx, f, Optional.ofNullable(runs.get(f.id())))).toList();
  }

  private FileRow row(Tx tx, Received f, Optional<Runs.Run> run) {
    String why =
        f.reason()
            .map(r -> said(r.sentence(), r.place()))
            .map(desk.digits()::lengthsIn)
            .or(() -> f.duplicateOf().map(d -> "The same bytes came before; no second run."))
            .orElse("");
    return new FileRow(
        f.id().value(),
        f.path(),
        desk.digits().moment(f.receivedAt()),
        f.kind() != ReceivedFiles.Kind.TRACK && f.state() == State.MEASURED
            ? Status.holds("taken")
            : status(Standing.of(f)),
        why,
        run.map(r -> Links.run(r.id().value())).orElse(""),
        Words.list(
            TagForm.others(tx, f).entrySet().stream()
                .map(t -> Words.of(t.getKey()) + " " + t.getValue())
                .toList()));
  }

  // Most sentences begin with their place.
  private static String said(String sentence, String place) {
    return place.isBlank() || sentence.regionMatches(true, 0, place, 0, place.length())
        ? sentence
        : sentence + " (" + place + ")";
  }

  private static Status status(Standing standing) {
    return switch (standing) {
      case RECEIVED -> Status.unknown("being measured");
      case MEASURED -> Status.holds("measured");
      case WAITING -> Status.watch("waiting");
      case OFF_COURSE -> Status.watch("waiting for a course");
      case REFUSED -> Status.broken("refused");
      case DUPLICATE -> Status.unknown("duplicate");
    };
  }

  private static Field field(Tx tx, TagName name, boolean required) {
    return new Field(
        name.code(),
        Words.of(name),
        hint(name),
        required,
        TagChoices.of(tx, name),
        known(tx, name));
  }

  private static String hint(TagName name) {
    return switch (name) {
      case UNIT -> "The physical device, by your own name for it.";
      case FIRMWARE -> "As the device shows it.";
      case CLOCK ->
          "as-read, local, what is to be added to its times (-02:00, +12 days), or when it began, local:"
              + " began 2026-05-12 07:05.";
      case COLUMNS -> "5=km; 7=skip; dates=day-first";
      case SHOWN -> "What the display read, with its digits: 0.27.";
      case DATE -> "2026-05-12";
      case TIME -> "07:05, local";
      default -> "";
    };
  }

  private static List<String> known(Tx tx, TagName name) {
    return switch (name) {
      case UNIT -> Models.units(tx).stream().map(Models.Unit::name).distinct().toList();
      case FIRMWARE ->
          Firmware.all(tx).stream().map(f -> f.release().version()).distinct().toList();
      default -> List.of();
    };
  }
}
