package milewarden.cli;

import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
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
  private static final String COURSE =
      """
      {"type": "Feature",
       "properties": {"slug": "square", "name": "Square", "closed": true,
        "measured_length_m": 240, "method": "wheel", "sky_view": "open"},
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
    String sha256 = Digest.sha256(bytes);
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
                                Optional.of(sha256),
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
      gpx.append(
          String.format(
              Locale.ROOT,
              "<trkpt lat=\"%.7f\" lon=\"%.7f\"><time>2026-01-01T00:%02d:%02dZ</time></trkpt>",
              y + beside,
              -30 + x + beside,
              second / 60,
              second % 60));
    }
    return gpx.append("</trkseg></trk></gpx>").toString();
  }
}
