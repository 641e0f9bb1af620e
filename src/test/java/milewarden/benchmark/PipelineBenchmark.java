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
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.format.TrackFormats;
import milewarden.geodesy.Geodesics;
import milewarden.track.Track;
import milewarden.units.LengthUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;

/**
 * From the bytes of a file to a result, side by side with the pipeline that is put together from
 * libraries: jpx reads, GeographicLib sums the length, JTS finds the place along the line by its
 * linear referencing, or, in less time, the distance from the line alone by its tree. That knows no
 * leg, no lap, no ladder and no noise. Ours hashes and matches by progress; it does the same job
 * ({@link SameJob}), and everything.
 */
@State(Scope.Benchmark)
public class PipelineBenchmark {
  @Param public Hour hour;

  private static final Reading SHOWN =
      new Reading(10.01, LengthUnit.KILOMETRE, 0.01, Rounding.TRUNCATED);

  @Benchmark
  public double oursSameJob() throws NoSuchAlgorithmException {
    double hash = MessageDigest.getInstance("SHA-256").digest(hour.gpx)[0];
    return hash + SameJob.of(read(hour.gpx), hour.course, SHOWN);
  }

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
    Places p = new Places(jpx(hour.gpx));
    return p.lengthM() + hour.jts.byLine(p.lat, p.lon);
  }

  @Benchmark
  public double librariesByTree() throws IOException {
    Places p = new Places(jpx(hour.gpx));
    return p.lengthM() + hour.jts.byTree(p.lat, p.lon);
  }

  private static final class Places {
    final double[] lat;
    final double[] lon;

    Places(List<WayPoint> points) {
      lat = points.stream().mapToDouble(p -> p.getLatitude().doubleValue()).toArray();
      lon = points.stream().mapToDouble(p -> p.getLongitude().doubleValue()).toArray();
    }

    double lengthM() {
      double sum = 0;
      for (int i = 1; i < lat.length; i++)
        sum += Geodesics.lengthM(lat[i - 1], lon[i - 1], lat[i], lon[i]);
      return sum;
    }
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
