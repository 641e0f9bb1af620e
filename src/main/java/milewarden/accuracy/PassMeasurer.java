package milewarden.accuracy;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.fingerprint.Bends;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.fingerprint.Places;
import milewarden.accuracy.noise.MatchedPoints;
import milewarden.accuracy.noise.NoiseModel;
import milewarden.accuracy.noise.OffsetStatistics;
import milewarden.accuracy.noise.Offsets;
import milewarden.accuracy.noise.PositionGrid;
import milewarden.course.ReferenceCourse;
import milewarden.device.Reading;
import milewarden.matching.CourseMatcher;
import milewarden.matching.Match;
import milewarden.matching.PassEnd;
import milewarden.matching.PassSpan;
import milewarden.units.LengthRange;

/** Measures the passes of one recording on one course. */
final class PassMeasurer {
  private static final double BIN_M = 10;
  private static final int MOST_POINTS = 1200;

  // ENGINE section 7: positions so coarse lengthen the track by themselves; above half a percent of
  // the way, the smallest limit that anybody sets, its length says nothing about the device.
  private static final double COARSE_SHARE = 0.005;

  private final Recording recording;
  private final ReferenceCourse course;
  private final CourseMatcher matcher;
  private final Match match;
  private final double ground;
  private final double horizontalM;
  private final double k;
  private final OptionalDouble gridDeg;

  PassMeasurer(Recording recording, ReferenceCourse course, CourseMatcher matcher, Match match) {
    this.recording = recording;
    this.course = course;
    this.matcher = matcher;
    this.match = match;
    ground = course.groundFactor();
    horizontalM = course.horizontalM();
    k = horizontalM / (match.lengthM() * ground);
    gridDeg = PositionGrid.stepDeg(recording.track);
  }

  double k() {
    return k;
  }

  /** What one pass gave, with the lengths that only a finding tells. */
  record Measured(
      PassMeasurement pass, Offsets offsets, int breaks, double lostM, double junkShare) {}

  Measured measure(int index, PassSpan span, Optional<Reading> reading) {
    PassSeries pass = new PassSeries(recording, match, matcher, span, ground);
    LadderSums sums = new LadderSums(pass);
    double r = course.referenceM() * span.laps();
    double h = horizontalM * span.laps();
    OptionalDouble recorded =
        recording.recorded.betweenM(span.from(), span.to(), recording.track.size());
    Optional<ShownDistance> shown = reading.map(ShownDistance::of);
    Optional<LengthRange> range = shown.map(ShownDistance::range);
    Offsets offsets = new Offsets(pass.fixOffsets());
    double corridorM = course.corridorM().orElse(OffLines.corridorM(offsets.sigmaM()));
    List<PassMeasurement.OffLine> offLine =
        new OffLines(pass, recording.timeline, corridorM, k).found();
    OffsetStatistics offset = offsets.statistics(recording.timeline.medianIntervalS());
    NoiseModel noise = new NoiseModel(pass.matched(), offsets);
    Distances distances =
        new Distances(
            r, h, sums.track, recorded, optional(shown.map(ShownDistance::asReadM)), range);
    PassMeasurement measured =
        new PassMeasurement(
            index,
            span.direction(),
            span.bounds(),
            span.laps(),
            recording.timeline.timed()
                ? Optional.of(recording.timeline.instant(pass.second[0]))
                : Optional.empty(),
            duration(pass, 0, pass.points - 1),
            offLine.isEmpty(),
            resolvable(pass, noise, sums),
            offLine,
            distances,
            errors(distances, shown),
            sums.ladder(k, r, h, recorded, range),
            offset,
            noise.predictedM(1),
            noise.check(),
            gapShare(pass, sums),
            byKind(pass),
            byPlace(pass),
            laps(span),
            ascent(span),
            fingerprints(span, pass, offsets, offset),
            profile(pass));
    return new Measured(measured, offsets, sums.breaks, sums.lost, junk(pass, offsets.sigmaM()));
  }

  private Optional<Ascent> ascent(PassSpan span) {
    int first = span.from().fix() + (span.from().fraction() > 0 ? 1 : 0);
    return Ascent.of(
        recording.track, first, span.to().fix(), course, span.direction(), span.laps());
  }

  private List<Fingerprint> fingerprints(
      PassSpan span, PassSeries pass, Offsets offsets, OffsetStatistics offset) {
    MatchedPoints fixes = pass.fixes();
    List<Fingerprint> out = new ArrayList<>();
    out.addAll(Bends.of(fixes, pass::travelHeadingsRad, offsets));
    out.addAll(Places.of(gridDeg, offset, fixes.size()));
    out.add(CountedSteps.of(recording, pass, span.from().fix(), offsets.sigmaM()));
    return out;
  }

  private static OptionalDouble optional(Optional<Double> value) {
    return value.isPresent() ? OptionalDouble.of(value.get()) : OptionalDouble.empty();
  }

  private static OptionalDouble duration(PassSeries pass, int from, int to) {
    double s = pass.second[to] - pass.second[from];
    return Double.isNaN(s) ? OptionalDouble.empty() : OptionalDouble.of(s);
  }

  static Errors errors(Distances d, Optional<ShownDistance> shown) {
    double r = d.referenceM();
    OptionalDouble recorded = d.recordedM();
    return new Errors(
        OptionalDouble.of(100 * (d.trackM() - d.horizontalReferenceM()) / d.horizontalReferenceM()),
        recorded.isPresent()
            ? OptionalDouble.of(100 * (recorded.getAsDouble() - r) / r)
            : OptionalDouble.empty(),
        optional(shown.map(s -> s.asReadPercent(r))),
        shown.map(s -> s.errorPercent(r)));
  }

  private boolean resolvable(PassSeries pass, NoiseModel noise, LadderSums sums) {
    if (gridDeg.isEmpty()) return true;
    double step = PositionGrid.stepSigmaM(gridDeg.getAsDouble(), pass.latitudeDeg[0]);
    return noise.sum(step, 1) <= COARSE_SHARE * Math.abs(sums.advance);
  }

  /**
   * Share of the fixes that say no more than that they are far off: beyond 6 sigma, 24 m at least.
   */
  private static double junk(PassSeries pass, double sigmaM) {
    double limit = 6 * Math.max(4, sigmaM);
    int count = 0;
    for (int j = pass.firstFix; j <= pass.lastFix; j++)
      if (Math.abs(pass.offsetM[j]) > limit) count++;
    return count / (double) Math.max(1, pass.lastFix - pass.firstFix + 1);
  }

  private static double gapShare(PassSeries pass, LadderSums sums) {
    double inGaps = 0;
    for (int j = 0; j + 1 < pass.points; j++)
      if (pass.kind[j] == StepKind.GAP) inGaps += pass.stepM[j];
    return sums.track > 0 ? inGaps / sums.track : 0;
  }

  private static List<PassMeasurement.KindExcess> byKind(PassSeries pass) {
    StepKind[] kinds = StepKind.values();
    double[][] sums = new double[kinds.length][3];
    for (int j = 0; j + 1 < pass.points; j++) {
      double[] sum = sums[pass.kind[j].ordinal()];
      sum[0]++;
      if (pass.broken[j]) continue;
      sum[1] += pass.stepM[j];
      sum[2] += pass.stepM[j] - (pass.alongM[j + 1] - pass.alongM[j]);
    }
    List<PassMeasurement.KindExcess> out = new ArrayList<>();
    for (StepKind kind : kinds) {
      double[] sum = sums[kind.ordinal()];
      out.add(new PassMeasurement.KindExcess(kind, (int) sum[0], sum[1], sum[2]));
    }
    return out;
  }

  /** By place of the course, so that both directions and all laps lie upon each other. */
  private List<Double> byPlace(PassSeries pass) {
    double[] bins = new double[(int) Math.ceil(horizontalM / BIN_M)];
    for (int j = 0; j + 1 < pass.points; j++) {
      if (pass.broken[j]) continue;
      double at = k * (pass.courseAlongM(j) + pass.courseAlongM(j + 1)) / 2;
      if (match.closed()) at -= horizontalM * Math.floor(at / horizontalM);
      int bin = Math.max(0, Math.min(bins.length - 1, (int) (at / BIN_M)));
      bins[bin] += pass.stepM[j] - (pass.alongM[j + 1] - pass.alongM[j]);
    }
    return Arrays.stream(bins).boxed().toList();
  }

  private List<PassMeasurement.LapDetail> laps(PassSpan span) {
    if (span.laps() < 2 || span.seams().isEmpty()) return List.of();
    List<PassEnd> ends = new ArrayList<>();
    ends.add(span.from());
    ends.addAll(span.seams());
    ends.add(span.to());
    List<PassMeasurement.LapDetail> out = new ArrayList<>();
    for (int i = 1; i < ends.size(); i++) {
      PassSpan lap =
          new PassSpan(span.direction(), span.bounds(), 1, ends.get(i - 1), ends.get(i), List.of());
      PassSeries series = new PassSeries(recording, match, matcher, lap, ground);
      double sum = 0;
      for (double step : series.stepM) sum += step;
      out.add(new PassMeasurement.LapDetail(i, sum, duration(series, 0, series.points - 1)));
    }
    return out;
  }

  private PassMeasurement.Profile profile(PassSeries pass) {
    int every = (pass.points + MOST_POINTS - 1) / MOST_POINTS;
    // Laps are unrolled from the start of the course at which this pass began.
    double lapM = match.closed() ? match.lengthM() * ground : 0;
    double base = lapM > 0 ? lapM * Math.floor(lowest(pass) / lapM + 0.25) : 0;
    List<Double> chainage = new ArrayList<>();
    List<Double> offset = new ArrayList<>();
    List<Double> speed = new ArrayList<>();
    List<Double> lat = new ArrayList<>();
    List<Double> lon = new ArrayList<>();
    for (int j = 0; j < pass.points; j += every) {
      chainage.add(k * (pass.courseAlongM(j) - base));
      offset.add(pass.offsetM[j]);
      speed.add(speed(pass, j));
      lat.add(pass.latitudeDeg[j]);
      lon.add(pass.longitudeDeg[j]);
    }
    return new PassMeasurement.Profile(chainage, offset, speed, lat, lon);
  }

  private static double lowest(PassSeries pass) {
    return Math.min(pass.courseAlongM(0), pass.courseAlongM(pass.points - 1));
  }

  private double speed(PassSeries pass, int j) {
    int a = Math.max(0, j - 1);
    int b = Math.min(pass.points - 1, j + 1);
    double dt = pass.second[b] - pass.second[a];
    // Without times, or at one instant, there is no speed: the profile's own rule.
    return dt > 0 ? k * (pass.placeM[b] - pass.placeM[a]) / dt : Double.NaN;
  }

  static String at(Optional<Instant> instant) {
    return instant.map(Instant::toString).orElse("");
  }
}
