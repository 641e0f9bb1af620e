package milewarden.store;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Ascent;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Engine;
import milewarden.accuracy.Errors;
import milewarden.accuracy.Ladder;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.PassMeasurement;
import milewarden.accuracy.RecordingQuality;
import milewarden.accuracy.StepKind;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.fingerprint.Fingerprint;
import milewarden.accuracy.noise.Bracket;
import milewarden.accuracy.noise.Evenness;
import milewarden.accuracy.noise.NoiseCheck;
import milewarden.accuracy.noise.OffsetStatistics;
import milewarden.course.Bounds;
import milewarden.course.CourseSlug;
import milewarden.course.Direction;
import milewarden.course.Mark;
import milewarden.course.Method;
import milewarden.course.ReferenceCourse;
import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.geodesy.Polyline;
import milewarden.geodesy.Position;
import milewarden.store.Id.FileId;
import milewarden.store.Id.RunId;
import milewarden.store.file.Batches;
import milewarden.store.file.Contents;
import milewarden.store.file.FileQueue;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.judged.Marks;
import milewarden.store.run.Courses;
import milewarden.store.run.Firmware;
import milewarden.store.run.Models;
import milewarden.store.run.Results;
import milewarden.store.run.Runs;
import milewarden.store.run.Sessions;
import milewarden.units.LengthRange;
import milewarden.units.LengthUnit;
import milewarden.units.PercentRange;
import milewarden.verdict.Policy;

/** Courses, measurements and runs whose numbers are chosen by the test, invented all. */
public final class Samples {
  public static final Instant T0 = Instant.parse("2026-05-12T07:00:00Z");

  private Samples() {}

  /** A straight course of 1,000 m with a standard uncertainty of 0.5 m. */
  public static ReferenceCourse course(String slug, String version) {
    return new ReferenceCourse(
        new CourseSlug(slug),
        version,
        "Course " + slug,
        false,
        new Polyline(List.of(new Position(48.0, 16.0), new Position(48.009, 16.0))),
        List.of(new Mark(Mark.Role.START, new Position(48.0, 16.0), OptionalDouble.of(0), "nail")),
        1000.0,
        0.5,
        Optional.of(LocalDate.parse("2026-04-01")),
        "a tester",
        Method.WHEEL,
        OptionalDouble.empty(),
        OptionalDouble.of(180.5),
        List.of(
            new ReferenceCourse.HeightPoint(0, 180), new ReferenceCourse.HeightPoint(1000, 181)),
        OptionalDouble.empty(),
        "asphalt",
        SkyView.PARTLY_OPEN,
        "",
        Map.of("painted", "\"yes\""));
  }

  /** One forward pass of a 1,000 m course with this track error. */
  public static PassMeasurement pass(int index, Instant start, double trackPercent) {
    double trackM = 1000 + 10 * trackPercent;
    List<Double> chainage = new ArrayList<>();
    List<Double> offset = new ArrayList<>();
    List<Double> speed = new ArrayList<>();
    List<Double> latitude = new ArrayList<>();
    List<Double> longitude = new ArrayList<>();
    for (int i = 0; i <= 100; i++) {
      chainage.add(i * 10.004);
      offset.add(2 * Math.sin(i / 9.0));
      speed.add(i == 0 ? Double.NaN : 3 + Math.cos(i / 5.0));
      latitude.add(48 + i * 0.00009);
      longitude.add(16 - i * 1e-6);
    }
    return new PassMeasurement(
        index,
        Direction.FORWARD,
        Bounds.GATES,
        1,
        Optional.of(start),
        OptionalDouble.of(333.3),
        true,
        true,
        List.of(),
        new Distances(
            1000,
            999.9,
            trackM,
            OptionalDouble.of(trackM - 1),
            OptionalDouble.of(1010),
            Optional.of(new LengthRange(1005, 1015))),
        new Errors(
            OptionalDouble.of(trackPercent),
            OptionalDouble.of(trackPercent - 0.1),
            OptionalDouble.of(1.0),
            Optional.of(new PercentRange(0.5, 1.5))),
        new Ladder(
            -0.1,
            0.4,
            0,
            0.2,
            5.1,
            -0.3,
            -0.05,
            OptionalDouble.of(-1),
            Optional.of(new LengthRange(-2.5, 7.5))),
        new OffsetStatistics(
            0.1,
            1.4,
            1.5,
            1.0,
            3.1,
            4.4,
            OptionalDouble.of(20.5),
            Optional.of(
                new OffsetStatistics.Uncertainty(
                    0.3,
                    0.2,
                    0.25,
                    Optional.of(new Bracket(OptionalDouble.of(1.1), OptionalDouble.of(1.6))),
                    Optional.of(new Bracket(OptionalDouble.of(2.5), OptionalDouble.empty())),
                    OptionalDouble.of(12),
                    OptionalDouble.empty()))),
        3.3,
        new NoiseCheck(
            List.of(5.0, 2.4),
            List.of(4.9, 2.5),
            List.of(1.1, 0.7),
            Optional.of(new Evenness(1.2, true)),
            true),
        0.01,
        List.of(new PassMeasurement.KindExcess(StepKind.STRAIGHT, 90, 900, 4.2)),
        List.of(0.05, -0.0123, Double.NaN, 1.5),
        List.of(new PassMeasurement.LapDetail(1, trackM, OptionalDouble.empty())),
        Optional.of(new Ascent(12.5, OptionalDouble.of(11.0), 3)),
        List.of(
            Fingerprint.of(
                Fingerprint.Kind.SMOOTHING_LAG, Fingerprint.Presence.PRESENT, 2.9, 2.1, 3.5, 12)),
        new PassMeasurement.Profile(chainage, offset, speed, latitude, longitude));
  }

  public static TrackMeasurement measurement(PassMeasurement... passes) {
    return new TrackMeasurement(
        2042.5,
        OptionalDouble.empty(),
        new RecordingQuality(
            OptionalDouble.of(1),
            OptionalDouble.of(2),
            3,
            0.01,
            4,
            5,
            0,
            1,
            OptionalDouble.of(1e-6),
            List.of(new RecordingQuality.Repair("duplicate-time", 2))),
        List.of(passes),
        List.of(
            new TrackMeasurement.Finding(
                TrackMeasurement.Finding.Code.BOUNDS_GUESSED, "", "gates")));
  }

  /** A run of a unit with its passes, in a session of its own name, fixed on the body, walking. */
  public static RunId run(
      Tx tx,
      String unit,
      String firmware,
      String session,
      Instant start,
      ReferenceCourse course,
      double... trackPercents) {
    LocalDate date = start.atOffset(ZoneOffset.UTC).toLocalDate();
    Models.Unit its = Models.unit(tx, unit, "Model " + unit.charAt(0));
    Firmware.Known release = Firmware.seen(tx, its.model(), firmware, date);
    Sessions.Session outing = Sessions.tagged(tx, session, start, date);
    Contents.Packed bytes =
        Contents.pack(
            (unit + firmware + session + start).getBytes(java.nio.charset.StandardCharsets.UTF_8));
    Contents.put(tx, bytes);
    FileId file =
        ReceivedFiles.receive(
            tx,
            Batches.current(tx),
            unit + "/" + session + ".gpx",
            bytes.sha256(),
            ReceivedFiles.Kind.TRACK);
    RunId run =
        Runs.ofFile(
            tx,
            file,
            new Runs.Facts(
                outing.id(),
                its.id(),
                release.id(),
                course.slug().text(),
                Carriage.FIXED,
                Gait.WALK,
                "1 s",
                start,
                Optional.of(start.plusSeconds(700)),
                Optional.empty(),
                Optional.empty()));
    PassMeasurement[] passes = new PassMeasurement[trackPercents.length];
    for (int i = 0; i < passes.length; i++)
      passes[i] = pass(i + 1, start.plusSeconds(340L * i), trackPercents[i]);
    Results.put(tx, run, Engine.VERSION, course, measurement(passes), SHOWN);
    FileQueue.measured(tx, file);
    Marks.ofRun(tx, run);
    return run;
  }

  // A display that shows hundredths of a kilometre.
  public static final MeasureOptions SHOWN =
      MeasureOptions.NONE.withShown(
          new Reading(1.02, LengthUnit.KILOMETRE, 0.01, Rounding.TRUNCATED));

  /** The policy with one purpose replaced, or added. */
  public static Policy withPurpose(Policy p, String code, double mean, double nextRun) {
    List<Policy.Purpose> purposes = new java.util.ArrayList<>(p.purposes());
    purposes.removeIf(known -> known.code().equals(code));
    purposes.add(new Policy.Purpose(code, mean, nextRun));
    return p.withPurposes(purposes);
  }

  /** Puts a course in force. */
  public static ReferenceCourse put(Tx tx, ReferenceCourse course) {
    Courses.put(
        tx,
        course,
        course.slug() + ".geojson",
        Contents.pack(new byte[] {1, 2, 3}),
        List.of("drawn by hand"));
    return course;
  }
}
