package milewarden.web.api;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.ReferenceCourse;
import milewarden.report.answer.PassAnswer;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.run.Courses;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.run.Sessions;

/** The records of the API's lists. Ids are texts: they name, they don't count. */
final class Rows {
  private Rows() {}

  record CourseRow(
      String slug,
      String version,
      String name,
      boolean closed,
      double lengthM,
      double standardUncertaintyM,
      Optional<LocalDate> measuredOn,
      String method,
      String skyView,
      Instant addedAt,
      List<String> notices) {
    static CourseRow of(Courses.Known known) {
      ReferenceCourse c = known.course();
      return new CourseRow(
          c.slug().text(),
          c.version(),
          c.name(),
          c.closed(),
          c.referenceM(),
          c.standardUncertaintyM(),
          c.measuredOn(),
          c.method().code(),
          c.skyView().code(),
          known.addedAt(),
          known.notices());
    }
  }

  record ModelRow(String id, String name, Instant addedAt) {
    static ModelRow of(Models.Model m) {
      return new ModelRow(Long.toString(m.id().value()), m.name(), m.addedAt());
    }
  }

  record UnitRow(
      String id, String name, String modelId, String model, boolean control, Instant addedAt) {
    static UnitRow of(Models.Unit u) {
      return new UnitRow(
          Long.toString(u.id().value()),
          u.name(),
          Long.toString(u.model().value()),
          u.modelName(),
          u.control(),
          u.addedAt());
    }
  }

  /** {@code dateAssumed}: dated by its first session until the tester gives the date. */
  record FirmwareRow(
      String id, String modelId, String version, LocalDate date, boolean dateAssumed) {
    static FirmwareRow of(Firmware.Known f) {
      return new FirmwareRow(
          Long.toString(f.id().value()),
          Long.toString(f.model().value()),
          f.version(),
          f.release().date(),
          f.release().assumed());
    }
  }

  record SessionRow(
      String id,
      String name,
      boolean tagged,
      LocalDate date,
      Instant firstStart,
      Instant lastStart) {
    static SessionRow of(Sessions.Session s) {
      return new SessionRow(
          Long.toString(s.id().value()),
          s.name(),
          s.tagged(),
          s.date(),
          s.firstStart(),
          s.lastStart());
    }
  }

  /** {@code heldFor}: the run that this one perhaps repeats in another format. */
  record RunRow(
      String id,
      String sessionId,
      String session,
      LocalDate date,
      String model,
      String unit,
      boolean control,
      String firmware,
      String course,
      String carriage,
      String gait,
      String settings,
      Instant startedAt,
      Optional<Instant> endedAt,
      Optional<String> fileId,
      Optional<String> heldFor,
      Optional<String> notes) {
    static RunRow of(Runs.Run r) {
      return new RunRow(
          Long.toString(r.id().value()),
          Long.toString(r.facts().session().value()),
          r.sessionName(),
          r.date(),
          r.modelName(),
          r.unitName(),
          r.control(),
          r.firmware(),
          r.facts().course(),
          r.facts().carriage().code(),
          r.facts().gait().code(),
          r.facts().settings(),
          r.facts().startedAt(),
          r.facts().endedAt(),
          r.file().map(f -> Long.toString(f.value())),
          r.heldFor().map(h -> Long.toString(h.value())),
          r.facts().notes());
    }
  }

  record ResultRow(
      String id,
      String runId,
      String sessionId,
      String firmwareId,
      int pass,
      String direction,
      boolean onCourse,
      boolean trackResolvable,
      Optional<Instant> startedAt,
      OptionalDouble durationS,
      PassAnswer.DistanceAnswer distance,
      PassAnswer.ErrorAnswer error,
      PassAnswer.TermsAnswer terms,
      Optional<String> excludedReason) {
    static ResultRow of(Results.Summary s) {
      PassAnswer pass = PassAnswer.of(s.distances(), s.errors(), s.ladder());
      return new ResultRow(
          Long.toString(s.id().value()),
          Long.toString(s.run().value()),
          Long.toString(s.session().value()),
          Long.toString(s.firmware().value()),
          s.pass(),
          s.direction().code(),
          s.onCourse(),
          s.trackResolvable(),
          s.startedAt(),
          s.durationS(),
          pass.distance(),
          pass.error(),
          pass.terms(),
          s.exclusion().map(e -> code(e.reason())));
    }
  }

  /** A received file: {@code state} is received, measured, waiting, refused or duplicate. */
  record FileRow(
      String id,
      String path,
      String sha256,
      String state,
      Optional<String> duplicateOf,
      Optional<ReasonRow> reason,
      List<String> missing,
      Instant receivedAt,
      Optional<Instant> settledAt,
      Optional<String> runId) {
    static FileRow of(ReceivedFiles.Received f, Optional<Runs.Run> run) {
      return new FileRow(
          Long.toString(f.id().value()),
          f.path(),
          f.sha256(),
          code(f.state()),
          f.duplicateOf().map(d -> Long.toString(d.value())),
          f.reason().map(r -> new ReasonRow(r.code(), r.place(), r.sentence())),
          f.missing().stream().map(t -> t.code()).toList(),
          f.receivedAt(),
          f.settledAt(),
          run.map(r -> Long.toString(r.id().value())));
    }
  }

  record ReasonRow(String code, String place, String message) {}

  static String code(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }
}
