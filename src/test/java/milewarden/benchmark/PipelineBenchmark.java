package milewarden.benchmark;

import io.jenetics.jpx.GPX;
import io.jenetics.jpx.WayPoint;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.List;
import milewarden.accuracy.MeasureOptions;
import milewarden.accuracy.Measurer;
import milewarden.format.TrackFormats;
import milewarden.geodesy.Geodesics;
import milewarden.track.Track;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;

/**
 * From the bytes of a file to a result, side by side with the pipeline that is put together from
 * libraries: jpx reads, GeographicLib sums the length, JTS finds the nearest place of the line.
 * That knows no leg, no lap, no ladder and no noise; ours hashes, reads, matches by progress and
 * measures all.
 */
@State(Scope.Benchmark)
public class PipelineBenchmark {
  @Param public Hour hour;

  @Benchmark
  public double ours() throws NoSuchAlgorithmException {
    double hash = MessageDigest.getInstance("SHA-256").digest(hour.gpx)[0];
    Track track = read(hour.gpx);
    return hash + Measurer.measure(track, hour.course, MeasureOptions.NONE).trackLengthM();
  }

  /** The whole of a recording, or nothing at all. */
  static Track read(byte[] bytes) {
    return TrackFormats.read(new ByteArrayInputStream(bytes))
        .fold(
            u -> u.track(),
            r -> {
              throw new IllegalStateException("refused: " + r.why());
            });
  }

  @Benchmark
  public double libraries() throws IOException {
    List<WayPoint> points = jpx(hour.gpx);
    double sum = 0;
    double[] lat = new double[points.size()];
    double[] lon = new double[points.size()];
    for (int i = 0; i < lat.length; i++) {
      lat[i] = points.get(i).getLatitude().doubleValue();
      lon[i] = points.get(i).getLongitude().doubleValue();
      if (i > 0) sum += Geodesics.lengthM(lat[i - 1], lon[i - 1], lat[i], lon[i]);
    }
    return sum + hour.jts.byTree(lat, lon);
  }

  static List<WayPoint> jpx(byte[] bytes) throws IOException {
    return GPX.Reader.DEFAULT
        .read(new ByteArrayInputStream(bytes))
        .tracks()
        .flatMap(t -> t.segments())
        .flatMap(s -> s.points())
        .toList();
  }
}
