package milewarden.benchmark;

import io.jenetics.jpx.GPX;
import io.jenetics.jpx.WayPoint;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.function.DoubleSupplier;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.course.ReferenceCourse;
import milewarden.device.Gait;
import milewarden.format.TrackFormats;
import milewarden.geodesy.Geodesics;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;

/**
 * Processor time from the bytes of a file to a result, side by side with the pipeline that is put
 * together from libraries: jpx reads, GeographicLib sums the length, JTS finds the nearest place of
 * the line. That knows no leg, no lap, no ladder and no noise; ours hashes, reads, matches by
 * progress and measures all. GPX of one fix a second with position, height and time alone. Both in
 * turn, medians; one command: {@code milewarden.benchmark.PipelineBenchmark}.
 */
public final class PipelineBenchmark {
  private static final int ROUNDS = 7;
  private static final int WARM_ROUNDS = 3;
  // So that 300 files are read before any is counted.
  private static final int FILES = 100;
  private static final Position HERE = new Position(46.5, -31.5);

  private PipelineBenchmark() {}

  public static void main(String[] args) {
    System.out.printf(
        Locale.ROOT,
        "%-34s %6s %9s %9s %8s%n",
        "microseconds of CPU a fix",
        "fixes",
        "ours",
        "libraries",
        "ratio");
    ReferenceCourse loop = InventedCourse.circle("loop", HERE, 2500 / (2 * Math.PI), 600);
    row("closed 2.5 km, 600 vertices", Walk.of(loop).withLaps(4));
    List<double[]> plan = new ArrayList<>();
    for (int i = 0; i < 1000; i++)
      plan.add(new double[] {400 * Math.sin(i / 80.0), 5000.0 * i / 999});
    ReferenceCourse out =
        InventedCourse.of("out", "out", false, InventedCourse.laidOut(HERE, plan));
    row("out and back, 2,000 vertices", Walk.of(out).withLaps(2));
  }

  private static void row(String name, Walk walk) {
    ReferenceCourse course = walk.course();
    Track track =
        TrackSimulator.simulate(
                walk.withGait(Gait.RUN, 2.8), Receiver.PERFECT.withNoise(3, 20, 0), Sky.CLEAR, 1)
            .track();
    byte[] bytes = gpx(track);
    NearestByJts jts = new NearestByJts(course);
    List<DoubleSupplier> sides = List.of(() -> ours(bytes, course), () -> libraries(bytes, jts));
    double[][] us = new double[sides.size()][ROUNDS];
    for (int round = -WARM_ROUNDS; round < ROUNDS; round++)
      for (int s = 0; s < us.length; s++) {
        double took = timedUs(sides.get(s)) / track.size();
        if (round >= 0) us[s][round] = took;
      }
    for (double[] of : us) Arrays.sort(of);
    double a = us[0][ROUNDS / 2];
    double b = us[1][ROUNDS / 2];
    System.out.printf(
        Locale.ROOT, "%-34s %6d %9.2f %9.2f %8.1f%n", name, track.size(), a, b, b / a);
  }

  private static double ours(byte[] bytes, ReferenceCourse course) {
    try {
      MessageDigest.getInstance("SHA-256").digest(bytes);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
    Track track =
        TrackFormats.read(new ByteArrayInputStream(bytes))
            .fold(
                u -> u.track(),
                r -> {
                  throw new IllegalStateException("refused");
                });
    return Measurer.measure(track, course, MeasureOptions.NONE).trackLengthM();
  }

  private static double libraries(byte[] bytes, NearestByJts jts) {
    try {
      List<WayPoint> points =
          GPX.Reader.DEFAULT
              .read(new ByteArrayInputStream(bytes))
              .tracks()
              .flatMap(t -> t.segments())
              .flatMap(s -> s.points())
              .toList();
      double sum = 0;
      double[] lat = new double[points.size()];
      double[] lon = new double[points.size()];
      for (int i = 0; i < lat.length; i++) {
        lat[i] = points.get(i).getLatitude().doubleValue();
        lon[i] = points.get(i).getLongitude().doubleValue();
        if (i > 0) sum += Geodesics.lengthM(lat[i - 1], lon[i - 1], lat[i], lon[i]);
      }
      return sum + jts.byTree(lat, lon);
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  private static byte[] gpx(Track track) {
    StringBuilder out = new StringBuilder();
    out.append("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\" creator=\"made\"");
    out.append(" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>\n");
    for (int i = 0; i < track.size(); i++)
      out.append(
          String.format(
              Locale.ROOT,
              "<trkpt lat=\"%.7f\" lon=\"%.7f\"><ele>%.1f</ele><time>%s</time></trkpt>%n",
              track.latitudesDeg()[i],
              track.longitudesDeg()[i],
              12.5,
              Instant.ofEpochMilli(track.timesMs()[i])));
    return out.append("</trkseg></trk></gpx>\n").toString().getBytes(StandardCharsets.UTF_8);
  }

  private static double timedUs(DoubleSupplier side) {
    double sink = 0;
    long from = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    for (int f = 0; f < FILES; f++) sink += side.getAsDouble();
    long to = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    if (Double.isNaN(sink)) throw new IllegalStateException("no result");
    return (to - from) / 1e3 / FILES;
  }
}
