package milewarden.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Ascent;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Engine;
import milewarden.accuracy.Errors;
import milewarden.accuracy.Ladder;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.RecordingQuality;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.noise.Bracket;
import milewarden.accuracy.noise.Evenness;
import milewarden.accuracy.noise.NoiseCheck;
import milewarden.accuracy.noise.OffsetStatistics;
import milewarden.course.ReferenceCourse;
import milewarden.track.DeviceClaim;
import milewarden.track.Issue;

/** The document of {@code measure --json}: full numbers, unrounded; what is unknown is null. */
final class MeasureJson {
  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

  private MeasureJson() {}

  static String of(ReferenceCourse course, List<TrackReport> reports) {
    ObjectNode root = NODES.objectNode().put("engineVersion", Engine.VERSION);
    root.putObject("course")
        .put("slug", course.slug().text())
        .put("version", course.version())
        .put("lengthM", course.referenceM())
        .put("standardUncertaintyM", course.standardUncertaintyM())
        .put("closed", course.closed());
    ArrayNode tracks = root.putArray("tracks");
    for (TrackReport report : reports) tracks.add(track(report));
    try {
      return JSON.writerWithDefaultPrettyPrinter().writeValueAsString(root) + "\n";
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a tree of plain values", e);
    }
  }

  private static ObjectNode track(TrackReport report) {
    ObjectNode node = NODES.objectNode().put("file", report.file());
    if (report.measured().isPresent()) {
      measured(node, report, report.measured().get());
    } else {
      node.putNull("format");
      node.set("sha256", text(report.sha256()));
      node.put("fixes", 0);
      for (String name :
          List.of("startedAt", "recording", "device", "trackLengthM", "recordedLengthM"))
        node.putNull(name);
      node.putArray("passes");
    }
    ArrayNode problems = node.putArray("problems");
    for (TrackReport.Problem p : report.problems()) {
      ObjectNode problem = problems.addObject().put("code", p.code());
      problem.set("place", text(p.place()));
      problem.put("detail", p.detail()).put("message", p.message());
    }
    return node;
  }

  private static void measured(ObjectNode node, TrackReport report, TrackReport.Measured m) {
    node.put("format", m.track().format());
    node.set("sha256", text(report.sha256()));
    node.put("fixes", m.track().size());
    node.set("startedAt", instant(m.track().startedAt()));
    node.set("recording", recording(m));
    node.set("device", device(m.track().claim()));
    node.set("trackLengthM", number(m.result().trackLengthM()));
    node.set("recordedLengthM", number(m.result().recordedLengthM()));
    m.reference().ifPresent(c -> node.set("referenceTrack", PositionJson.of(c)));
    ArrayNode passes = node.putArray("passes");
    for (PassMeasurement pass : m.result().passes()) passes.add(pass(pass));
  }

  private static ObjectNode recording(TrackReport.Measured m) {
    RecordingQuality quality = m.result().recording();
    ObjectNode node = NODES.objectNode();
    node.set("medianIntervalS", number(quality.medianIntervalS()));
    node.set("p95IntervalS", number(quality.p95IntervalS()));
    node.put("gaps", quality.gaps());
    ArrayNode repairs = node.putArray("repairs");
    for (RecordingQuality.Repair repair : quality.repairs())
      repairs.addObject().put("kind", repair.kind()).put("count", repair.count());
    for (Issue.Kind kind : Issue.Kind.values())
      if (kind.compareTo(Issue.Kind.VALUE_UNREADABLE) <= 0 && m.drops().count(kind) > 0)
        repairs.addObject().put("kind", TrackReport.code(kind)).put("count", m.drops().count(kind));
    return node;
  }

  private static ObjectNode device(DeviceClaim claim) {
    ObjectNode node = NODES.objectNode();
    node.set("name", text(claim.name()));
    node.set("code", text(claim.code()));
    node.set("serial", text(claim.serial()));
    node.set("software", text(claim.software()));
    return node;
  }

  private static ObjectNode pass(PassMeasurement pass) {
    ObjectNode node =
        NODES
            .objectNode()
            .put("index", pass.index())
            .put("direction", pass.direction().code())
            .put("bounds", pass.bounds().code())
            .put("laps", pass.laps());
    node.set("startedAt", instant(pass.startedAt()));
    node.set("durationS", number(pass.durationS()));
    node.put("onCourse", pass.onCourse());
    node.set("distance", distance(pass.distances()));
    node.set("error", error(pass.errors()));
    node.set("terms", terms(pass.ladder()));
    node.set("offset", offset(pass.offset()));
    node.set("noise", noise(pass));
    ArrayNode habits = node.putArray("fingerprints");
    for (Fingerprint f : pass.fingerprints()) habits.add(fingerprint(f));
    node.set("ascent", pass.ascent().map(MeasureJson::ascent).orElse(NODES.nullNode()));
    return node;
  }

  private static JsonNode ascent(Ascent a) {
    ObjectNode node = NODES.objectNode().put("trackM", a.trackM());
    node.set("courseM", number(a.courseM()));
    return node.put("deadBandM", a.deadBandM());
  }

  private static ObjectNode noise(PassMeasurement pass) {
    ObjectNode node = NODES.objectNode();
    node.set("predictedInflationM", number(pass.predictedInflationM()));
    NoiseCheck check = pass.noise();
    ArrayNode thinned = node.putArray("thinned");
    for (int i = 0; i < check.observedM().size(); i++) {
      ObjectNode row = thinned.addObject().put("everyFix", 1 << i);
      row.set("observedM", number(check.observedM().get(i)));
      row.set("predictedM", number(check.predictedM().get(i)));
      row.set("uncertaintyM", number(check.uncertaintyM().get(i)));
    }
    node.set("strongestToWeakestPart", number(check.evenness().map(Evenness::ratio)));
    return node.put("plainNoise", check.plainNoise());
  }

  /** Value and interval in the unit of the kind: seconds, metres or degrees. */
  private static ObjectNode fingerprint(Fingerprint f) {
    ObjectNode node =
        NODES
            .objectNode()
            .put("kind", f.kind().name().toLowerCase(Locale.ROOT).replace('_', '-'))
            .put("presence", f.presence().name().toLowerCase(Locale.ROOT));
    node.set("value", number(f.value()));
    node.set("low", number(f.low()));
    node.set("high", number(f.high()));
    return node.put("n", f.n());
  }

  private static ObjectNode distance(Distances d) {
    ObjectNode node = NODES.objectNode();
    node.set("referenceM", number(d.referenceM()));
    node.set("trackM", number(d.trackM()));
    node.set("recordedM", number(d.recordedM()));
    node.set("horizontalReferenceM", number(d.horizontalReferenceM()));
    ObjectNode shown = node.putObject("shownM");
    shown.set("asRead", number(d.shownAsReadM()));
    shown.set("low", number(d.shownM().map(r -> r.lowM())));
    shown.set("high", number(d.shownM().map(r -> r.highM())));
    return node;
  }

  private static ObjectNode error(Errors e) {
    ObjectNode node = NODES.objectNode();
    node.set("trackPercent", number(e.trackPercent()));
    node.set("recordedPercent", number(e.recordedPercent()));
    ObjectNode shown = node.putObject("shownPercent");
    shown.set("asRead", number(e.shownAsReadPercent()));
    shown.set("low", number(e.shownPercent().map(r -> r.low())));
    shown.set("high", number(e.shownPercent().map(r -> r.high())));
    return node;
  }

  private static ObjectNode terms(Ladder ladder) {
    ObjectNode node = NODES.objectNode();
    node.set("slopeM", number(ladder.slopeM()));
    node.set("endsM", number(ladder.endsM()));
    node.set("lineM", number(ladder.lineM()));
    node.set("backtrackM", number(ladder.backtrackM()));
    node.set("weaveM", number(ladder.weaveM()));
    node.set("bendM", number(ladder.bendM()));
    node.set("chordM", number(ladder.chordM()));
    node.set("sourceM", number(ladder.sourceM()));
    ObjectNode indication = node.putObject("indicationM");
    indication.set("low", number(ladder.indicationM().map(r -> r.lowM())));
    indication.set("high", number(ladder.indicationM().map(r -> r.highM())));
    return node;
  }

  private static ObjectNode offset(OffsetStatistics o) {
    ObjectNode node = NODES.objectNode();
    node.set("meanM", number(o.meanM()));
    node.set("robustSigmaM", number(o.robustSigmaM()));
    node.set("rmsM", number(o.rmsM()));
    node.set("medianAbsM", number(o.medianAbsM()));
    node.set("p95AbsM", number(o.p95AbsM()));
    node.set("maxAbsM", number(o.maxAbsM()));
    node.set("correlationTimeS", number(o.correlationTimeS()));
    Optional<OffsetStatistics.Uncertainty> u = o.uncertainty();
    ObjectNode half = node.putObject("halfWidth95");
    half.set("meanM", number(u.map(OffsetStatistics.Uncertainty::meanM)));
    half.set("robustSigmaM", number(u.map(OffsetStatistics.Uncertainty::robustSigmaM)));
    half.set("rmsM", number(u.map(OffsetStatistics.Uncertainty::rmsM)));
    ObjectNode interval = node.putObject("interval95");
    interval.set("medianAbsM", bracket(u.flatMap(OffsetStatistics.Uncertainty::medianAbs)));
    interval.set("p95AbsM", bracket(u.flatMap(OffsetStatistics.Uncertainty::p95Abs)));
    interval.set(
        "correlationTimeS",
        bracket(u.map(x -> new Bracket(x.correlationLowS(), x.correlationHighS()))));
    return node;
  }

  private static ObjectNode bracket(Optional<Bracket> b) {
    ObjectNode node = NODES.objectNode();
    node.set("low", b.map(x -> number(x.lowM())).orElse(NODES.nullNode()));
    node.set("high", b.map(x -> number(x.highM())).orElse(NODES.nullNode()));
    return node;
  }

  private static JsonNode number(OptionalDouble value) {
    return value.isPresent() ? number(value.getAsDouble()) : NODES.nullNode();
  }

  private static JsonNode number(Optional<Double> value) {
    return value.isPresent() ? number(value.get().doubleValue()) : NODES.nullNode();
  }

  /** JSON has no word for a number that is none. */
  private static JsonNode number(double value) {
    return Double.isFinite(value) ? NODES.numberNode(value) : NODES.nullNode();
  }

  private static JsonNode text(Optional<String> text) {
    return text.isPresent() ? NODES.textNode(text.get()) : NODES.nullNode();
  }

  private static JsonNode instant(Optional<Instant> at) {
    return at.isPresent() ? NODES.textNode(at.get().toString()) : NODES.nullNode();
  }
}
