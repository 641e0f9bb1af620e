package milewarden.review;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import milewarden.accuracy.Engine;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.ShownDistance;
import milewarden.accuracy.ShownRun;
import milewarden.accuracy.TrackMeasurement;
import milewarden.course.Direction;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.format.TrackFormats;
import milewarden.format.text.ColumnAnswers;
import milewarden.report.trial.CapsuleWords;
import milewarden.store.file.Contents;
import milewarden.store.judged.Capsules;
import milewarden.store.run.EvidenceRows;
import milewarden.verdict.Condition;
import milewarden.verdict.Conformity;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.Threshold;
import milewarden.verdict.replay.CapsuleContents;
import milewarden.verdict.replay.CapsuleFault;
import milewarden.verdict.replay.CapsuleFault.What;

/**
 * Finds every figure of a published verdict again from its capsule alone: the hashes, then each
 * recording measured from its bytes, then the figures by the judge. No store, no clock.
 */
public final class CapsuleCheck {
  // Far above a recording; an entry beyond it is no part of a capsule.
  private static final long LARGEST_BYTES = 512L << 20;

  private final Map<String, byte[]> files = new HashMap<>();
  private final Map<String, ReferenceCourse> courses = new HashMap<>();
  private final Map<String, TrackMeasurement> measured = new HashMap<>();

  private CapsuleCheck() {}

  /**
   * What a check found.
   *
   * @param verdict that the capsule is of; empty where that can't be read
   * @param files whose hashes were held against their bytes
   * @param passes that were measured again
   * @param fault the first that differs; empty where all recomputes to the same digits
   */
  public record Checked(
      Optional<PublishedVerdict> verdict,
      String engineVersion,
      int files,
      int passes,
      Optional<CapsuleFault> fault) {}

  /** Checks an archive; a fault of it is an answer, not an exception. */
  public static Checked check(InputStream archive) throws IOException {
    CapsuleCheck check = new CapsuleCheck();
    try {
      check.unpack(archive);
    } catch (java.util.zip.ZipException e) {
      return check.done(
          Optional.empty(), 0, fault(What.NO_CAPSULE, "", "", String.valueOf(e.getMessage())));
    }
    Optional<CapsuleContents> contents = check.contents();
    if (contents.isEmpty())
      return check.done(Optional.empty(), 0, fault(What.NO_CAPSULE, CapsuleFile.CONTENTS, "", ""));
    return check.check(contents.get());
  }

  private Checked check(CapsuleContents contents) {
    Optional<PublishedVerdict> verdict = Optional.of(contents.verdict());
    Optional<CapsuleFault> fault = sums();
    if (fault.isPresent()) return done(verdict, 0, fault);
    List<CapsuleContents.Pass> found = new ArrayList<>();
    for (CapsuleContents.Pass pass : contents.passes()) {
      Optional<CapsuleFault> unreadable = prepare(pass);
      if (unreadable.isPresent()) return done(verdict, found.size(), unreadable);
      Optional<PassEvidence> anew = anew(pass);
      if (anew.isEmpty())
        return done(verdict, found.size(), fault(What.PASS_MISSING, name(pass), "a pass", "none"));
      Optional<Capsules.Difference> d = Capsules.first(pass.evidence(), anew.get());
      if (d.isPresent())
        return done(
            verdict,
            found.size(),
            fault(
                What.PASS_DIFFERS,
                name(pass) + ", " + d.get().name(),
                d.get().published(),
                d.get().found()));
      found.add(pass.with(anew.get()));
    }
    return done(verdict, found.size(), figures(contents.with(found)));
  }

  private Checked done(
      Optional<PublishedVerdict> verdict, int passes, Optional<CapsuleFault> fault) {
    return new Checked(verdict, Engine.VERSION, files.size(), passes, fault);
  }

  private static Optional<CapsuleFault> fault(
      What what, String where, String published, String found) {
    return Optional.of(new CapsuleFault(what, where, published, found));
  }

  private void unpack(InputStream archive) throws IOException {
    try (ZipInputStream zip = new ZipInputStream(archive, StandardCharsets.UTF_8)) {
      for (ZipEntry e = zip.getNextEntry(); e != null; e = zip.getNextEntry()) {
        byte[] bytes = zip.readNBytes((int) LARGEST_BYTES);
        if (zip.read() >= 0) throw new java.util.zip.ZipException(e.getName() + " is too large");
        files.put(e.getName(), bytes);
      }
    }
  }

  private Optional<CapsuleContents> contents() {
    byte[] bytes = files.get(CapsuleFile.CONTENTS);
    if (bytes == null) return Optional.empty();
    try {
      return Optional.of(Capsules.read(new String(bytes, StandardCharsets.UTF_8)));
    } catch (IllegalStateException e) {
      return Optional.empty();
    }
  }

  private Optional<CapsuleFault> sums() {
    byte[] sums = files.get(CapsuleFile.SUMS);
    if (sums == null) return fault(What.FILE_MISSING, CapsuleFile.SUMS, "", "");
    for (String line : new String(sums, StandardCharsets.UTF_8).lines().toList()) {
      if (line.length() < 67) continue;
      String name = line.substring(66);
      byte[] bytes = files.get(name);
      if (bytes == null) return fault(What.FILE_MISSING, name, "", "");
      String is = Contents.sha256(bytes);
      if (!is.equals(line.substring(0, 64)))
        return fault(What.HASH_DIFFERS, name, line.substring(0, 64), is);
    }
    return Optional.empty();
  }

  /** Reads and measures what a pass rests on, once for each. */
  private Optional<CapsuleFault> prepare(CapsuleContents.Pass pass) {
    if (pass.options().isEmpty()) return fault(What.OPTIONS_UNKNOWN, name(pass), "", "");
    String courseFile = CapsuleWords.courseFile(pass);
    if (!courses.containsKey(courseFile)) {
      byte[] bytes = files.get(courseFile);
      if (bytes == null) return fault(What.FILE_MISSING, courseFile, "", "");
      Optional<ReferenceCourse> course =
          CourseFile.read(bytes).fold(good -> Optional.of(good.course()), b -> Optional.empty());
      if (course.isEmpty()) return fault(What.UNREADABLE, courseFile, "", "");
      courses.put(courseFile, course.get());
    }
    if (pass.sha256().isEmpty() || measured.containsKey(name(pass))) return Optional.empty();
    String file = CapsuleWords.recordingFile(pass);
    byte[] bytes = files.get(file);
    if (bytes == null) return fault(What.FILE_MISSING, file, "", "");
    // The name may be anybody's; the bytes are known by their hash.
    if (!Contents.sha256(bytes).equals(pass.sha256()))
      return fault(What.HASH_DIFFERS, file, pass.sha256(), Contents.sha256(bytes));
    ColumnAnswers columns = pass.columns().flatMap(ColumnAnswers::of).orElse(ColumnAnswers.NONE);
    return TrackFormats.read(new ByteArrayInputStream(bytes), columns)
        .fold(
            good -> {
              measured.put(
                  name(pass),
                  Measurer.measure(good.track(), course(pass), pass.options().orElseThrow()));
              return Optional.<CapsuleFault>empty();
            },
            bad -> fault(What.UNREADABLE, file, "", ""));
  }

  private ReferenceCourse course(CapsuleContents.Pass pass) {
    return java.util.Objects.requireNonNull(courses.get(CapsuleWords.courseFile(pass)));
  }

  private static String name(CapsuleContents.Pass pass) {
    PassEvidence e = pass.evidence();
    return pass.sha256().isEmpty()
        ? e.session() + ", " + e.unit()
        : CapsuleWords.recordingFile(pass) + " on " + e.condition().course();
  }

  private Optional<PassEvidence> anew(CapsuleContents.Pass pass) {
    ReferenceCourse course = course(pass);
    MeasureOptions options = pass.options().orElseThrow();
    if (pass.sha256().isEmpty()) {
      ShownRun run = ShownRun.measure(course, options.laps().orElse(1), options.shown().get(0));
      return Optional.of(
          evidence(
              pass,
              course,
              options.direction().orElse(Direction.FORWARD),
              run.errors(),
              run.referenceM(),
              run.shown().stepM()));
    }
    TrackMeasurement found = java.util.Objects.requireNonNull(measured.get(name(pass)));
    OptionalDouble step =
        options.shown().stream().limit(1).mapToDouble(r -> ShownDistance.of(r).stepM()).max();
    for (PassMeasurement p : found.passes())
      if (p.index() == pass.pass())
        return Optional.of(
            evidence(
                pass,
                course,
                p.direction(),
                EvidenceRows.counting(p.errors(), p.onCourse() && p.trackResolvable()),
                p.distances().referenceM(),
                step.orElse(Double.NaN)));
    return Optional.empty();
  }

  private static PassEvidence evidence(
      CapsuleContents.Pass pass,
      ReferenceCourse course,
      Direction direction,
      milewarden.accuracy.Errors errors,
      double referenceM,
      double stepM) {
    PassEvidence e = pass.evidence();
    Condition c = e.condition();
    return new PassEvidence(
        e.resultId(),
        e.session(),
        e.sessionStart(),
        e.date(),
        e.model(),
        e.unit(),
        e.control(),
        e.firmware(),
        new Condition(
            course.slug().text(),
            course.version(),
            course.skyView(),
            c.carriage(),
            c.gait(),
            c.settings()),
        direction,
        errors,
        referenceM,
        100 * course.standardUncertaintyM() / course.measuredLengthM(),
        stepM,
        e.exclusion());
  }

  /** What is compared of a verdict. */
  private record Said(
      List<Conformity> decisions,
      ReleaseFigures figures,
      List<ReleaseFigures> figuresByCondition,
      Threshold.State threshold) {}

  private static Optional<CapsuleFault> figures(CapsuleContents anew) {
    PublishedVerdict v = anew.verdict();
    Optional<CapsuleContents.Figures> found = anew.figures();
    if (found.isEmpty()) return fault(What.FIGURE_DIFFERS, "figures", "figures", "none");
    Said said = new Said(v.decisions(), v.figures(), v.figuresByCondition(), v.threshold());
    Said is =
        new Said(
            found.get().release().conformity(),
            found.get().release().pooled().orElseThrow(),
            found.get().release().byCondition(),
            found.get().threshold());
    return Capsules.first(said, is)
        .map(d -> new CapsuleFault(What.FIGURE_DIFFERS, d.name(), d.published(), d.found()));
  }
}
