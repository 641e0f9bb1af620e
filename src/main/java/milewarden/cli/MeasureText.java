package milewarden.cli;

import java.time.Duration;
import java.util.List;
import java.util.OptionalDouble;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Errors;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.RecordingQuality;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.reference.ReferenceTrack.Compared;
import milewarden.course.ReferenceCourse;
import milewarden.report.Digits;
import milewarden.report.Words;
import milewarden.report.pass.AscentWords;
import milewarden.report.pass.FingerprintWords;
import milewarden.report.pass.LadderWords;
import milewarden.report.pass.NoiseWords;
import milewarden.report.pass.PositionWords;
import milewarden.report.pass.RepairWords;
import milewarden.track.Track;

/** The answer of {@code measure} for people: a table of distances and the ladder for each pass. */
record MeasureText(Digits digits) {
  String of(ReferenceCourse course, List<TrackReport> reports) {
    StringBuilder text = new StringBuilder();
    // An expanded uncertainty, coverage factor 2.
    String length = digits.groundWithin(course.referenceM(), 2 * course.standardUncertaintyM());
    text.append(course.name()).append(" (").append(course.slug()).append("): ").append(length);
    text.append(course.closed() ? " a lap" : " from mark to mark").append('\n');
    for (TrackReport report : reports) track(text, report);
    // On a terminal a no-break space is a space; in a log it is a riddle.
    return text.toString().replace('\u00a0', ' ');
  }

  private void track(StringBuilder text, TrackReport report) {
    text.append('\n').append(report.file()).append('\n');
    report.measured().ifPresent(m -> measured(text, m));
    for (TrackReport.Problem problem : report.problems())
      text.append("  ! ").append(problem.message()).append('\n');
  }

  private void measured(StringBuilder text, TrackReport.Measured m) {
    Track track = m.track();
    RecordingQuality quality = m.result().recording();
    text.append("  ").append(digits.counted(track.size(), "fix").replace("fixs", "fixes"));
    track.startedAt().ifPresent(at -> text.append(" from ").append(digits.moment(at)));
    quality.medianIntervalS().ifPresent(s -> text.append(", one every ").append(digits.seconds(s)));
    text.append(", ").append(digits.counted(quality.gaps(), "gap"));
    int dropped = m.drops().dropped();
    if (dropped > 0) text.append(", ").append(dropped).append(" dropped");
    text.append("; track ").append(digits.ground(m.result().trackLengthM())).append('\n');
    for (RepairWords.Row r : RepairWords.rows(quality.withDrops(m.drops())))
      text.append("    ")
          .append(r.count())
          .append(' ')
          .append(r.what())
          .append(": ")
          .append(r.done())
          .append('\n');
    m.reference().ifPresent(c -> positions(text, c));
    for (PassMeasurement pass : m.result().passes()) pass(text, pass);
  }

  private void positions(StringBuilder text, Compared compared) {
    if (compared.errors().isEmpty()) return;
    text.append("\n  Positions against the reference track\n");
    TextTable table = new TextTable(4);
    for (PositionWords.Row row : PositionWords.rows(compared.errors().get(), digits))
      table.row(row.name(), row.value(), row.meaning());
    text.append(table.text());
    for (String remark : PositionWords.remarks(compared, digits))
      text.append("    ").append(remark).append('\n');
  }

  private void pass(StringBuilder text, PassMeasurement pass) {
    text.append("\n  Pass ").append(pass.index()).append(": ");
    text.append(Words.of(pass.direction())).append(", ").append(Words.of(pass.bounds()));
    if (pass.laps() > 1) text.append(", ").append(digits.counted(pass.laps(), "lap"));
    pass.durationS()
        .ifPresent(
            s ->
                text.append(", ").append(digits.duration(Duration.ofMillis(Math.round(s * 1000)))));
    if (!pass.onCourse()) text.append(", left the line");
    text.append('\n');
    text.append(distances(pass)).append('\n').append(ladder(pass));
    String sentence = LadderWords.sentence(pass.ladder(), pass.distances().referenceM(), digits);
    text.append("    ").append(sentence).append('\n');
    for (String noise : NoiseWords.sentences(pass.offset(), pass.noise(), digits))
      text.append("    ").append(noise).append('\n');
    for (Fingerprint f : pass.fingerprints())
      text.append("    ").append(FingerprintWords.sentence(f, digits)).append('\n');
    pass.ascent()
        .ifPresent(a -> text.append("    ").append(AscentWords.of(a, digits)).append('\n'));
  }

  private String distances(PassMeasurement pass) {
    Distances d = pass.distances();
    Errors e = pass.errors();
    TextTable table = new TextTable(4);
    table.row("distance", "length", "error", "", "");
    table.row("reference", digits.ground(d.referenceM()), "", "", "");
    if (d.horizontalReferenceM() != d.referenceM())
      table.row(
          "reference, level", digits.ground(d.horizontalReferenceM()), "", "", "for the track");
    OptionalDouble t = e.trackPercent();
    String track = t.isPresent() ? percent(t.getAsDouble()) : "";
    String each = t.isPresent() ? digits.perRoadUnit(t.getAsDouble()) : "";
    String weight = pass.trackResolvable() ? "" : "not resolvable: positions too coarse";
    table.row("track", digits.ground(d.trackM()), track, each, weight);
    if (d.recordedM().isPresent())
      table.row(
          "recorded",
          digits.ground(d.recordedM().getAsDouble()),
          percent(e.recordedPercent().orElseThrow()),
          digits.perRoadUnit(e.recordedPercent().orElseThrow()),
          "the device's own");
    if (d.shownAsReadM().isPresent()) {
      table.row(
          "shown, as read",
          digits.ground(d.shownAsReadM().getAsDouble()),
          percent(e.shownAsReadPercent().orElseThrow()),
          digits.perRoadUnit(e.shownAsReadPercent().orElseThrow()),
          "");
      d.shownM()
          .ifPresent(
              r ->
                  table.row(
                      "shown, lies from",
                      digits.ground(r.lowM()),
                      percent(e.shownPercent().orElseThrow().low()),
                      digits.perRoadUnit(e.shownPercent().orElseThrow().low()),
                      ""));
      d.shownM()
          .ifPresent(
              r ->
                  table.row(
                      "to",
                      digits.ground(r.highM()),
                      percent(e.shownPercent().orElseThrow().high()),
                      digits.perRoadUnit(e.shownPercent().orElseThrow().high()),
                      "by the display's step and rule"));
    }
    return table.text();
  }

  private String percent(double value) {
    return digits.percent(value, 2);
  }

  private String ladder(PassMeasurement pass) {
    TextTable table = new TextTable(4);
    for (LadderWords.Row row :
        LadderWords.rows(pass.ladder(), pass.distances().referenceM(), digits))
      table.row(row.name(), row.size(), row.percent(), "");
    return table.text();
  }
}
