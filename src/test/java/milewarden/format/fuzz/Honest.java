package milewarden.format.fuzz;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.Drops;
import milewarden.track.Track;
import milewarden.track.TrackRead;

/** What holds for the reading of any bytes at all: by algebra, and by {@link Track}'s contract. */
final class Honest {
  /** Small, so that the limits themselves are reached by small inputs. */
  static final ReadLimits LIMITS = new ReadLimits(1 << 20, 64, 500);

  private Honest() {}

  /** A reader of one format. */
  interface Reader {
    TrackRead read(FileHead head, InputStream rest);
  }

  static void reads(byte[] bytes, Reader reader) {
    InputStream in = new ByteArrayInputStream(bytes);
    try {
      check(reader.read(FileHead.of(in), in));
    } catch (IOException e) {
      // No stream of this test fails: an exception of the stream is the reader's own.
      throw new UncheckedIOException(e);
    }
  }

  static void check(TrackRead read) {
    read.fold(
        usable -> {
          counted(usable.drops(), usable.track());
          placed(usable.track());
          return usable;
        },
        refused -> {
          if (refused.why().kind().dropsFix())
            throw new AssertionError("refused for one fix: " + refused.why());
          return refused;
        });
  }

  private static void counted(Drops drops, Track track) {
    if (drops.kept() != track.size()) throw new AssertionError("kept " + drops + track.size());
    if (drops.kept() + drops.dropped() != drops.seen())
      throw new AssertionError("kept and dropped are not what was seen: " + drops);
  }

  private static void placed(Track track) {
    for (int i = 0; i < track.size(); i++) {
      // Written so that NaN fails too.
      if (!(Math.abs(track.latitudesDeg()[i]) <= 90)) throw new AssertionError("latitude of " + i);
      if (!(Math.abs(track.longitudesDeg()[i]) <= 180))
        throw new AssertionError("longitude of " + i);
    }
    finite(track.heightsM(), "height");
    finite(track.distancesM(), "distance");
    finite(track.speedsMps(), "speed");
    finite(track.cadencesPerMin(), "cadence");
    track
        .claimedTotalM()
        .ifPresent(
            m -> {
              if (!Double.isFinite(m)) throw new AssertionError("total: " + m);
            });
  }

  /** NaN stands for "none" here; infinity for nothing. */
  private static void finite(double[] values, String name) {
    for (double v : values) if (Double.isInfinite(v)) throw new AssertionError(name + ": " + v);
  }
}
