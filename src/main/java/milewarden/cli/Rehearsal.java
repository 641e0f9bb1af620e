package milewarden.cli;

import java.io.ByteArrayInputStream;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.course.ReferenceCourse;
import milewarden.format.CourseFile;
import milewarden.format.TrackFormats;
import milewarden.format.text.ColumnAnswers;
import milewarden.report.Digits;
import milewarden.track.TrackRead;
import milewarden.units.UnitChoice;

/**
 * A minute round a square, measured on a thread of its own while the command line is still read:
 * afterwards what reads, measures and prints is loaded, which takes longer than measuring an hour.
 */
final class Rehearsal {
  // As long as its line within 0.1 %, so that there is nothing to note.
  private static final String COURSE =
      """
      {"type": "Feature",
       "properties": {"slug": "square", "name": "Square", "closed": true,
        "measured_length_m": 239.65,
        "standard_uncertainty_m": 0.1, "method": "wheel", "sky_view": "open"},
       "geometry": {"type": "LineString", "coordinates":
        [[-30, 0], [-29.99946, 0], [-29.99946, 0.00054], [-30, 0.00054], [-30, 0]]}}""";

  private Rehearsal() {}

  static void start() {
    Thread thread = new Thread(Rehearsal::run, "rehearsal");
    thread.setDaemon(true);
    thread.start();
  }

  /** Keeps nothing and says nothing; a failure comes again where it matters. */
  static Optional<String> run() {
    return CourseFile.read(COURSE.getBytes(StandardCharsets.UTF_8))
        .fold(usable -> measured(usable.course()), refused -> Optional.empty());
  }

  private static Optional<String> measured(ReferenceCourse course) {
    byte[] bytes = track().getBytes(StandardCharsets.UTF_8);
    TrackRead read = TrackFormats.read(new ByteArrayInputStream(bytes), ColumnAnswers.NONE);
    Digits digits = Digits.of(UnitChoice.METRIC, ZoneOffset.UTC);
    return read.fold(
        usable ->
            Optional.of(
                new MeasureText(digits)
                    .of(
                        course,
                        List.of(
                            new TrackReport(
                                "",
                                Optional.empty(),
                                Optional.of(
                                    new TrackReport.Measured(
                                        usable.track(),
                                        usable.drops(),
                                        Measurer.measure(
                                            usable.track(), course, MeasureOptions.NONE),
                                        Optional.empty())),
                                List.of())))),
        refused -> Optional.empty());
  }

  // Four sides of 60 m, 4 m a second; to and fro by half a metre, as if there were noise.
  private static String track() {
    StringBuilder gpx = new StringBuilder("<gpx version=\"1.1\"><trk><trkseg>");
    double side = 0.00054;
    for (int second = 0; second <= 60; second++) {
      double along = second % 15 / 15.0 * side;
      double beside = (second % 3 - 1) * 0.000005;
      int at = second / 15 % 4;
      double x = at == 0 ? along : at == 1 ? side : at == 2 ? side - along : 0;
      double y = at == 0 ? 0 : at == 1 ? along : at == 2 ? side : side - along;
      gpx.append("<trkpt lat=\"").append(degrees(y + beside));
      gpx.append("\" lon=\"").append(degrees(-30 + x + beside));
      gpx.append("\"><time>2026-01-01T00:0").append(second / 60).append(':');
      gpx.append(second % 60 < 10 ? "0" : "").append(second % 60).append("Z</time></trkpt>");
    }
    return gpx.append("</trkseg></trk></gpx>").toString();
  }

  // By hand: what Java formats with is not needed for the usual answer.
  private static String degrees(double value) {
    return BigDecimal.valueOf(Math.round(value * 1e7), 7).toPlainString();
  }
}
