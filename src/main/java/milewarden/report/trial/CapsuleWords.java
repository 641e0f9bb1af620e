package milewarden.report.trial;

import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.MeasureOptions;
import milewarden.device.Reading;
import milewarden.report.Digits;
import milewarden.report.JudgedWords;
import milewarden.report.PlanWords;
import milewarden.units.PercentRange;
import milewarden.units.UnitChoice;
import milewarden.verdict.PassError;
import milewarden.verdict.PassEvidence;
import milewarden.verdict.PlanOnRecord;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.SessionFigure;
import milewarden.verdict.Source;
import milewarden.verdict.figures.Evidence;
import milewarden.verdict.figures.FigureSheet;
import milewarden.verdict.figures.MeanError;
import milewarden.verdict.replay.CapsuleContents;
import milewarden.verdict.replay.CapsuleFault;

/** The texts of a capsule: its README, its table of passes, its printed arithmetic. */
public final class CapsuleWords {
  private CapsuleWords() {}

  /** The course's file in the archive. */
  public static String courseFile(CapsuleContents.Pass pass) {
    String slug = pass.evidence().condition().course();
    return "courses/" + slug + "-" + head(pass.evidence().condition().courseVersion()) + ".geojson";
  }

  /** The recording's file in the archive: a piece of its hash, and its own ending. */
  public static String recordingFile(CapsuleContents.Pass pass) {
    String name = pass.file().substring(pass.file().lastIndexOf('/') + 1);
    return "recordings/" + head(pass.sha256()) + "-" + name.replaceAll("[^A-Za-z0-9._-]", "_");
  }

  private static String head(String hash) {
    return hash.substring(0, Math.min(12, hash.length()));
  }

  public static String readme(CapsuleContents c) {
    PublishedVerdict v = c.verdict();
    return """
        Capsule of verdict %d on %s, firmware %s
        published %s, engine version %s

        From this archive every figure of the verdict can be found again, offline:

            milewarden verdict check CAPSULE.zip

        It holds the hashes against the bytes, measures every recording anew and works out the
        figures by the policy in force then; it names the first value that differs, if any does.
        With another engine version than %s a difference may be the engine's.

        By hand: `sha256sum -c SHA256SUMS` in the unpacked archive, then each line below, and
        the sums of arithmetic.txt.

        recordings/       the files as the devices wrote them
        courses/          the reference courses' files, as they were measured then
        passes.csv        every pass: session, unit, condition, its errors, what was excluded
        arithmetic.txt    the sums from the passes to the figures
        policy.json       the rules by which was judged
        verdict.json      the verdict as published
        contents.json     all of it for programs, with the tags by which each file was measured
        SHA256SUMS        hashes of all of these

        Errors are percent of the reference length, positive where the device reads long.
        Results relate only to the items tested.
        %s
        %s
        """
        .formatted(
            v.number(),
            v.model(),
            v.firmware(),
            v.publishedAt(),
            v.engineVersion(),
            v.engineVersion(),
            v.plan().map(CapsuleWords::plan).orElse(""),
            String.join("\n", commands(c)));
  }

  /** The plan and what was done otherwise, in the figures' own digits. */
  private static String plan(PlanOnRecord plan) {
    Digits digits = Digits.of(UnitChoice.METRIC, Locale.ROOT, ZoneOffset.UTC);
    List<String> lines = new ArrayList<>();
    lines.add("");
    lines.add(PlanWords.status(plan, digits));
    PlanWords.of(plan.plan(), digits).forEach(line -> lines.add("  " + line));
    lines.add("Done otherwise than planned:");
    PlanWords.otherwise(plan, digits).forEach(line -> lines.add("  " + line));
    lines.add("");
    return String.join("\n", lines).replace('\u00a0', ' ');
  }

  /** One line for each recording. */
  private static List<String> commands(CapsuleContents c) {
    List<String> lines = new ArrayList<>();
    for (CapsuleContents.Pass pass : c.passes())
      if (!pass.sha256().isEmpty() && pass.options().isPresent())
        lines.add(
            "    milewarden measure "
                + recordingFile(pass)
                + " --course "
                + courseFile(pass)
                + options(pass.options().get())
                + pass.columns().map(said -> " --columns \"" + said + "\"").orElse(""));
    return lines.stream().distinct().toList();
  }

  private static String options(MeasureOptions o) {
    StringBuilder line = new StringBuilder();
    o.bounds().ifPresent(b -> line.append(" --bounds " + code(b)));
    o.laps().ifPresent(n -> line.append(" --laps " + n));
    o.direction().ifPresent(d -> line.append(" --direction " + code(d)));
    line.append(" --gait " + code(o.gait()));
    for (Reading r : o.shown()) line.append(" --shown \"" + r.value() + " " + unit(r) + "\"");
    o.shown().stream()
        .findFirst()
        .ifPresent(
            r -> line.append(" --shown-step " + r.step() + " --rounding " + code(r.rounding())));
    return line.toString();
  }

  private static String unit(Reading r) {
    return r.unit() == milewarden.units.LengthUnit.MILE ? "mi" : "km";
  }

  private static String code(Enum<?> e) {
    return e.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** One row per pass. */
  public static String passes(CapsuleContents c) {
    StringBuilder csv =
        new StringBuilder(
            "result,session,session_start,date,unit,firmware,course,course_version,carriage,gait,"
                + "settings,direction,reference_m,track_percent,recorded_percent,shown_percent,"
                + "shown_low_percent,shown_high_percent,excluded,recording,pass\n");
    for (CapsuleContents.Pass pass : c.passes()) {
      PassEvidence e = pass.evidence();
      Optional<PercentRange> range = e.errors().shownPercent();
      csv.append(
          String.join(
              ",",
              "" + e.resultId(),
              quoted(e.session()),
              e.sessionStart().toString(),
              e.date().toString(),
              quoted(e.unit()),
              quoted(e.firmware()),
              e.condition().course(),
              e.condition().courseVersion(),
              code(e.condition().carriage()),
              code(e.condition().gait()),
              quoted(e.condition().settings()),
              code(e.direction()),
              "" + e.referenceM(),
              number(e.errors().trackPercent()),
              number(e.errors().recordedPercent()),
              number(e.errors().shownAsReadPercent()),
              range.map(r -> "" + r.low()).orElse(""),
              range.map(r -> "" + r.high()).orElse(""),
              e.exclusion().map(x -> code(x.reason())).orElse(""),
              pass.sha256().isEmpty() ? "" : recordingFile(pass),
              "" + pass.pass()));
      csv.append('\n');
    }
    return csv.toString();
  }

  private static String quoted(String text) {
    boolean plain = text.chars().noneMatch(ch -> ch == ',' || ch == '"' || ch == '\n');
    return plain ? text : "\"" + text.replace("\"", "\"\"") + "\"";
  }

  private static String number(OptionalDouble x) {
    return x.isPresent() ? "" + x.getAsDouble() : "";
  }

  /** From the passes to the figures, a line for each sum. */
  public static String arithmetic(CapsuleContents c) {
    ReleaseFigures f = c.verdict().figures();
    Evidence e =
        Evidence.of(f.source(), c.passes().stream().map(CapsuleContents.Pass::evidence).toList());
    StringBuilder text = new StringBuilder();
    text.append("All in percent of the reference, by " + JudgedWords.of(f.source()) + ".\n\n");
    for (SessionFigure s : e.sessions()) session(text, s, e);
    MeanError m =
        MeanError.of(e, FigureSheet.unitVariance(e, c.verdict().policy(), c.otherModelsUnits()));
    text.append("\nmean of the conditions' means (equal weight)  m = " + m.mean() + "\n");
    text.append("sessions                                      n = " + m.sessions() + "\n");
    if (!m.hasSpread()) {
      text.append("The spread between sessions can't be known from so few.\n");
      return text.toString();
    }
    text.append("variance between sessions                   s^2 = " + m.variance() + "\n");
    text.append("its degrees of freedom                       nu = " + m.degreesOfFreedom() + "\n");
    text.append("weight of s^2 in the mean (1/n if alike)      w = " + m.leverage() + "\n");
    m.unit()
        .ifPresent(
            u ->
                text.append(
                    "variance between units                    su^2 = "
                        + u.variance()
                        + ", nu "
                        + u.degreesOfFreedom()
                        + ", over "
                        + m.units()
                        + " units\n"));
    if (m.unit().isEmpty())
      text.append("variance between units: not known, left out: these units only\n");
    text.append(
        "variance of the reference                 uref^2 = " + m.referenceVariance() + "\n");
    text.append("u^2 = w s^2 + su^2 / units + uref^2           u = ");
    text.append(m.uncertainty().standardUncertainty() + "\n");
    text.append("Welch-Satterthwaite                      nu_eff = ");
    text.append(m.uncertainty().degreesOfFreedom() + "\n");
    text.append("U = t(0.975, nu_eff) u                        U = ");
    text.append(m.uncertainty().expanded(0.95) + "\n");
    f.nextRun()
        .ifPresent(r -> text.append("next run, 95 %: " + r.low() + " to " + r.high() + "\n"));
    c.verdict()
        .decisions()
        .forEach(
            d ->
                text.append(
                    d.purpose().code() + ": " + JudgedWords.of(d.decision()).word() + "\n"));
    return text.toString();
  }

  private static void session(StringBuilder text, SessionFigure s, Evidence e) {
    text.append(s.session() + ", " + s.date() + ": " + s.meanPercent() + "\n");
    for (PassEvidence p : e.passes())
      if (p.session().equals(s.session()))
        text.append(
            "  result "
                + p.resultId()
                + ", "
                + p.unit()
                + ", "
                + JudgedWords.of(p.condition())
                + ", "
                + code(p.direction())
                + ": "
                + PassError.of(p, source(e)).orElseThrow().asRead()
                + "\n");
    text.append("  passes averaged within direction, directions within unit, units within\n");
    text.append("  condition, conditions within the session: " + s.meanPercent() + "\n");
  }

  private static Source source(Evidence e) {
    return e.source();
  }

  /** The first fault of a capsule, as a sentence. */
  public static String of(CapsuleFault f) {
    return switch (f.what()) {
      case NO_CAPSULE ->
          "This is no capsule: it must be a zip with contents.json, as the Verdict page gives it.";
      case FILE_MISSING -> f.where() + " is missing from the archive. Get the capsule once more.";
      case HASH_DIFFERS ->
          f.where()
              + " is not the file that was published: its SHA-256 is "
              + f.found()
              + ", published "
              + f.published()
              + ".";
      case UNREADABLE -> f.where() + " can't be read by this version of the program.";
      case OPTIONS_UNKNOWN ->
          f.where()
              + " was measured before the store kept by which tags: it can't be measured alike."
              + " Publish anew for a capsule that can be checked.";
      case PASS_MISSING -> f.where() + ": the published pass is not found in the recording.";
      case PASS_DIFFERS, FIGURE_DIFFERS ->
          f.where() + " is " + f.found() + ", and was published as " + f.published() + ".";
    };
  }
}
