package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.jenetics.jpx.GPX;
import io.jenetics.jpx.WayPoint;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.geodesy.Position;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.SimulatedTrack;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.DeviceClaim;
import milewarden.track.Track;
import milewarden.track.TrackRead;
import org.junit.jupiter.api.Test;

final class GpxWriterTest {
  private static final double[] NONE = {};

  private static Track track(double[] lat, double[] lon, long[] times, double[] distances) {
    DeviceClaim claim =
        new DeviceClaim(
            Optional.of("Box \"A\" & <B>"), Optional.empty(), Optional.empty(), Optional.of("1.4"));
    return new Track(
        "gpx",
        lat,
        lon,
        NONE,
        times,
        distances,
        NONE,
        new int[] {0, 2},
        claim,
        OptionalDouble.empty());
  }

  /** The general-purpose reader jpx 3.2.1 is the check from outside. */
  @Test
  void aGeneralPurposeReaderFindsTheSameFixesAndTimes() throws IOException {
    double[] lat = {46.5, -0.000000001, 0.1234567891, -89.9999999994};
    double[] lon = {-31.5, 179.999999999, 0, -0.0000000004};
    long[] times = {1_700_000_000_000L, 1_700_000_000_300L, Track.NO_TIME, 1_700_000_002_000L};
    String written = GpxWriter.write(track(lat, lon, times, new double[] {0, 1.404, 2.806, 1e6}));
    GPX gpx = GPX.Reader.of(GPX.Reader.Mode.STRICT).fromString(written);
    assertThat(gpx.getCreator()).isEqualTo("Box \"A\" & <B> 1.4");
    List<WayPoint> points =
        gpx.tracks().flatMap(t -> t.segments()).flatMap(s -> s.points()).toList();
    assertThat(gpx.tracks().flatMap(t -> t.segments())).hasSize(2);
    assertThat(points).hasSize(4);
    for (int i = 0; i < 4; i++) {
      // Nine decimals are kept: half of the last is 5e-10 degrees.
      assertThat(points.get(i).getLatitude().doubleValue()).isCloseTo(lat[i], within(6e-10));
      assertThat(points.get(i).getLongitude().doubleValue()).isCloseTo(lon[i], within(6e-10));
      Optional<Long> time = points.get(i).getTime().map(t -> t.toEpochMilli());
      assertThat(time.orElse(Track.NO_TIME)).isEqualTo(times[i]);
    }
  }

  /** The same bytes, read by jpx 3.2.1 and by us: the same fixes, times and heights. */
  @Test
  void aGeneralPurposeReaderAndOursAgreeOnAWholeWalk() throws IOException {
    SimulatedTrack walk =
        TrackSimulator.simulate(
            Walk.of(InventedCourse.straight("pier", new Position(1.0, 2.0), 30, 1500))
                .withStart(Instant.parse("2026-05-12T07:00:00.250Z")),
            Receiver.PERFECT.withNoise(3.0, 20, 0.3),
            Sky.CLEAR,
            7);
    String written = GpxWriter.write(walk.track());
    Track ours =
        TrackFormats.read(new ByteArrayInputStream(written.getBytes(StandardCharsets.UTF_8)))
            .fold(
                TrackRead.Usable::track,
                refused -> {
                  throw new AssertionError(refused.why());
                });
    List<WayPoint> theirs =
        GPX.Reader.of(GPX.Reader.Mode.STRICT)
            .fromString(written)
            .tracks()
            .flatMap(t -> t.segments())
            .flatMap(s -> s.points())
            .toList();
    assertThat(ours.size()).isEqualTo(theirs.size()).isGreaterThan(1000);
    for (int i = 0; i < theirs.size(); i++) {
      WayPoint point = theirs.get(i);
      // The same decimal digits give the same double, whoever reads them.
      assertThat(ours.latitudesDeg()[i]).isEqualTo(point.getLatitude().doubleValue());
      assertThat(ours.longitudesDeg()[i]).isEqualTo(point.getLongitude().doubleValue());
      assertThat(ours.timesMs()[i]).isEqualTo(point.getTime().orElseThrow().toEpochMilli());
    }
  }

  @Test
  void theDevicesOwnDistanceStandsInOurNamespace() {
    String written =
        GpxWriter.write(
            track(
                new double[] {1, 1, 1},
                new double[] {2, 2, 2},
                new long[] {0, 1000, 2000},
                new double[] {0, 1.404, Double.NaN}));
    assertThat(written)
        .contains("xmlns:mw=\"urn:milewarden:track:1\"")
        .contains("<extensions><mw:distance>0</mw:distance></extensions>")
        .contains("<extensions><mw:distance>1.4</mw:distance></extensions>")
        .contains("<trkpt lat=\"1\" lon=\"2\"><time>1970-01-01T00:00:02Z</time></trkpt>");
  }
}
