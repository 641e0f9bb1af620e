package milewarden.intake;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Errors;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.ShownDistance;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.intake.drop.OneByOne;
import milewarden.matching.CourseIndex;
import milewarden.report.DamageWords;
import milewarden.store.Database;
import milewarden.store.Id.RunId;
import milewarden.store.Tx;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.SheetRows;
import milewarden.store.run.EvidenceRows;
import milewarden.store.run.EvidenceRows.Placed;
import milewarden.store.run.Exclusions;
import milewarden.store.run.Runs;
import milewarden.store.run.Sessions;
import milewarden.verdict.Condition;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PassEvidence.Exclusion;

/**
 * Measures runs of the store from their bytes, as the measuring stage would, and writes nothing: to
 * see what a new version of a course, or this engine, would find.
 */
public final class TrialMeasuring {
  // Raw bytes of so many recordings are in memory at a time.
  private static final int BATCH = 32;

  private final Database database;
  private final InboxSettings settings;
  private final ZoneId zone;
  private final RowRuns rowRuns;

  public TrialMeasuring(Database database, InboxSettings settings, ZoneId zone) {
    this.database = database;
    this.settings = settings;
    this.zone = zone;
    this.rowRuns = new RowRuns(settings, zone, new RunKeeping(settings, zone));
  }

  /**
   * The passes that each run would have.
   *
   * @param instead a version of a course to be taken for the one in force, or a new course
   * @return one entry per run; empty where it could not be measured. Results have no number yet:
   *     theirs is below 0, another for every pass
   */
  public Map<RunId, List<Placed>> measure(List<RunId> runs, Optional<ReferenceCourse> instead) {
    Known known = database.read(tx -> with(Known.load(tx, Optional.empty()), instead));
    // A forecast without one of the courses would tell of runs as lost that are not.
    if (!known.unread().isEmpty())
      throw new IllegalStateException(DamageWords.course(String.join(", ", known.unread())));
    FateFinder finder = new FateFinder(known, settings, zone);
    Map<RunId, List<Placed>> all = new LinkedHashMap<>();
    for (int from = 0; from < runs.size(); from += BATCH) {
      List<RunId> batch = runs.subList(from, Math.min(runs.size(), from + BATCH));
      List<Job> jobs = database.read(tx -> batch.stream().map(id -> job(tx, id, known)).toList());
      List<List<Placed>> found = OneByOne.map(jobs, job -> job.measure(finder));
      for (int i = 0; i < batch.size(); i++) all.put(batch.get(i), found.get(i));
    }
    return all;
  }

  private static Known with(Known known, Optional<ReferenceCourse> instead) {
    if (instead.isEmpty()) return known;
    List<ReferenceCourse> courses = new ArrayList<>(known.courses());
    courses.removeIf(c -> c.slug().equals(instead.get().slug()));
    courses.add(instead.get());
    List<String> unread = new ArrayList<>(known.unread());
    unread.remove(instead.get().slug().text());
    return new Known(
        known.devices(), List.copyOf(courses), List.copyOf(unread), CourseIndex.of(courses));
  }

  private Job job(Tx tx, RunId id, Known known) {
    Runs.Run run = Runs.find(tx, id).orElseThrow();
    Map<Integer, Exclusion> excluded = new LinkedHashMap<>();
    for (Exclusions.Excluded e : Exclusions.of(tx, id))
      if (e.liftedAt().isEmpty()) excluded.put(e.pass(), e.exclusion());
    return new Job(
        run,
        Sessions.find(tx, run.facts().session()).orElseThrow(),
        excluded,
        run.file()
            .flatMap(file -> ReceivedFiles.find(tx, file))
            .map(file -> Recording.load(tx, database, file)),
        run.row().flatMap(key -> row(tx, key, known)));
  }

  private Optional<RowRuns.Ready> row(Tx tx, SheetRows.Key key, Known known) {
    return SheetRows.find(tx, key)
        .flatMap(
            row ->
                ReceivedFiles.find(tx, row.words().sheet())
                    .flatMap(sheet -> rowRuns.read(row, sheet, known, new ArrayList<>())));
  }

  /** A run with all that it takes to measure it. */
  private record Job(
      Runs.Run run,
      Sessions.Session session,
      Map<Integer, Exclusion> excluded,
      Optional<Recording> recording,
      Optional<RowRuns.Ready> row) {

    List<Placed> measure(FateFinder finder) {
      if (recording.isPresent())
        return finder
            .of(recording.get())
            .fold(this::passes, reference -> List.of(), w -> List.of(), r -> List.of());
      return row.flatMap(this::pass).map(List::of).orElse(List.of());
    }

    private List<Placed> passes(Fate.Measured fate) {
      OptionalDouble step =
          fate.tags().shown().stream().limit(1).mapToDouble(r -> ShownDistance.of(r).stepM()).max();
      List<Placed> passes = new ArrayList<>();
      for (PassMeasurement p : fate.found().passes())
        passes.add(
            placed(
                p.index(),
                fate.course(),
                p.direction(),
                EvidenceRows.counting(p.errors(), p.onCourse() && p.trackResolvable()),
                p.distances().referenceM(),
                step.orElse(Double.NaN)));
      return passes;
    }

    /** Empty where the device failed and showed nothing. */
    private Optional<Placed> pass(RowRuns.Ready ready) {
      return ready
          .measure()
          .map(
              found ->
                  placed(
                      1,
                      ready.course(),
                      ready.direction(),
                      found.errors(),
                      found.referenceM(),
                      found.shown().stepM()));
    }

    private Placed placed(
        int pass,
        ReferenceCourse course,
        Direction direction,
        Errors errors,
        double referenceM,
        double stepM) {
      Condition condition =
          new Condition(
              course.slug().text(),
              course.version(),
              course.skyView(),
              run.facts().carriage(),
              run.facts().gait(),
              run.facts().settings());
      Optional<Exclusion> why =
          Optional.ofNullable(excluded.get(0)).or(() -> Optional.ofNullable(excluded.get(pass)));
      return new Placed(
          run.id(),
          pass,
          new PassEvidence(
              -(run.id().value() * 10_000 + pass),
              run.sessionName(),
              session.firstStart(),
              run.date(),
              run.modelName(),
              run.unitName(),
              run.control(),
              run.firmware(),
              condition,
              direction,
              errors,
              referenceM,
              100 * course.standardUncertaintyM() / course.measuredLengthM(),
              stepM,
              why));
    }
  }
}
