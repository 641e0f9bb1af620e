package milewarden.format.xml;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.ReadLimits;
import milewarden.track.Drops;
import milewarden.track.Track;
import milewarden.track.TrackRead;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Fixes read ahead of the parser are the parser's fixes to the bit, with the same words about them,
 * whatever the file looks like: every file is read both ways.
 */
final class FixRunsTest {
  private static final ReadLimits LIMITS = new ReadLimits(1 << 24, 12, 5_000);

  /** What a read says of itself, to be compared. */
  private static String said(TrackRead read) {
    return read.fold(u -> told(u.track(), u.drops()), r -> r.why().toString());
  }

  private static String told(Track t, Drops d) {
    return String.join(
        "\n",
        t.format() + " " + t.claim() + " " + t.claimedTotalM() + " " + t.laps() + t.pauses(),
        d.seen() + " " + d.kept() + " " + new java.util.TreeMap<>(d.counts()),
        d.details().toString(),
        Arrays.toString(t.latitudesDeg()),
        Arrays.toString(t.longitudesDeg()),
        Arrays.toString(t.heightsM()),
        Arrays.toString(t.timesMs()),
        Arrays.toString(t.distancesM()),
        Arrays.toString(t.speedsMps()),
        Arrays.toString(t.cadencesPerMin()),
        segments(t));
  }

  private static String segments(Track t) {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < t.segments(); i++) text.append(t.segmentStart(i)).append(' ');
    return text.toString();
  }

  private interface Way {
    XmlAttempt of(FileHead head, InputStream rest, ReadLimits limits);
  }

  private static String read(byte[] bytes, Way way) {
    InputStream in = new ByteArrayInputStream(bytes);
    try {
      return said(way.of(FileHead.of(in), in, LIMITS).read());
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private static void sameBothWays(byte[] bytes, String what) {
    boolean hidden =
        new String(bytes, StandardCharsets.ISO_8859_1).matches("(?s).*[-\\[]\\s?<trkpt.*");
    assertThat(sure(read(bytes, XmlAttempt::ahead), hidden))
        .as(what)
        .isEqualTo(sure(read(bytes, XmlAttempt::byParser), hidden));
  }

  /**
   * Without what the parser itself says in one way or another, by where its buffer ends: how it
   * calls bytes that are no text, and the column where a text ends too early. And without the line
   * of what lies too deep, which may be that of its fix, and columns behind a comment that hides
   * fixes.
   */
  private static String sure(String said, boolean hidden) {
    String less =
        said.replaceAll(
                ", column \\d+], detail=(Unexpected end-of-input|Invalid UTF-8|Illegal char|[^\\]]*(epilog|behind the root))[^\\]]*",
                "")
            .replaceAll("(?<=kind=TOO_DEEP, place=Optional\\[)line \\d+", "");
    return hidden ? less.replaceAll(", column \\d+", "") : less;
  }

  /** A file of some recorder, with the moods of recorders. */
  private static final class Recorder {
    private final SplittableRandom dice;
    private final StringBuilder text = new StringBuilder();
    private final boolean tcx;
    private final String gap;
    private final boolean extended;
    private final int digits;
    private int second;

    Recorder(long seed, boolean tcx) {
      dice = new SplittableRandom(seed);
      this.tcx = tcx;
      gap = List.of("", "\n", "\r\n", "\n  ", "\r", "\n\t\n").get(dice.nextInt(6));
      extended = dice.nextInt(3) == 0;
      digits = List.of(5, 7, 7, 16).get(dice.nextInt(4));
    }

    private boolean seldom() {
      return dice.nextInt(60) == 0;
    }

    private String number(double value, int decimals) {
      if (seldom())
        return List.of("", " ", "NaN", "1e2", "-1", "+3", " 4 ", "1,5", ".5", "7.", "-", "0")
            .get(dice.nextInt(12));
      return String.format(Locale.ROOT, "%." + decimals + "f", value);
    }

    private String time() {
      if (!seldom()) second++;
      if (seldom()) second += dice.nextInt(-4000, 4000);
      String plain = java.time.Instant.ofEpochSecond(1_778_569_200L + second).toString();
      if (seldom())
        return List.of(
                "",
                "yesterday",
                plain.replace("Z", ""),
                plain.replace("Z", ".25Z"),
                plain.replace("Z", "+02:00"),
                " " + plain,
                plain.replace("T", " "))
            .get(dice.nextInt(7));
      return plain;
    }

    private void odd() {
      if (!seldom()) return;
      text.append(
          List.of(
                  "<!-- <trkpt lat=\"1\" lon=\"1\"></trkpt> -->",
                  "<![CDATA[<trkpt lat=\"1\" lon=\"1\"></trkpt>]]>",
                  "<?milewarden-fixes 1?>",
                  "<?other?>",
                  "<waypoints/>",
                  "</trkseg><trkseg>",
                  "</Track><Track>",
                  "&amp;",
                  "é",
                  "<extensions><trkpt lat=\"2\" lon=\"3\"><ele>1</ele></trkpt></extensions>")
              .get(dice.nextInt(10)));
    }

    private void gap() {
      text.append(seldom() ? " \n" : gap);
    }

    private void leaf(String name, String value) {
      gap();
      text.append('<').append(name).append('>').append(value).append("</").append(name).append('>');
    }

    private void gpxFix(double lat, double lon) {
      String quote = seldom() ? "'" : "\"";
      text.append("<trkpt lat=").append(quote).append(number(lat, digits)).append(quote);
      if (seldom()) text.append(" note=\"x\"");
      text.append(" lon=").append(quote).append(number(lon, digits)).append(quote).append('>');
      odd();
      if (!seldom()) leaf("ele", number(30 + second % 7, 1));
      if (!seldom()) leaf("time", time());
      if (seldom()) leaf("speed", number(3, 2));
      if (extended) {
        text.append("<extensions><x:a xmlns:x=\"urn:x\">");
        leaf("x:hr", seldom() ? "1&lt;2" : "1" + dice.nextInt(30, 60));
        leaf("x:cad", number(dice.nextInt(80, 90), 0));
        if (dice.nextInt(5) > 0) leaf("x:speed", number(2.78, 2));
        text.append("</x:a></extensions>");
      }
      gap();
      text.append("</trkpt>");
    }

    private void tcxFix(double lat, double lon) {
      text.append("<Trackpoint>");
      if (!seldom()) leaf("Time", time());
      odd();
      if (!seldom()) {
        text.append("<Position>");
        leaf("LatitudeDegrees", number(lat, digits));
        leaf("LongitudeDegrees", number(lon, digits));
        text.append("</Position>");
      }
      leaf("AltitudeMeters", number(30, 1));
      if (dice.nextInt(4) > 0) leaf("DistanceMeters", number(second * 2.5, 1));
      if (extended) {
        text.append("<Extensions><TPX>");
        leaf("Speed", number(2.5, 2));
        leaf("RunCadence", number(85, 0));
        text.append("</TPX></Extensions>");
      }
      gap();
      text.append("</Trackpoint>");
    }

    String file(int fixes) {
      text.append(
          tcx
              ? "<TrainingCenterDatabase><Activities><Activity><Lap><Track>"
              : "<gpx version=\"1.1\" creator=\"x\"><trk><trkseg>");
      for (int i = 0; i < fixes; i++) {
        gap();
        double lat = 46.5 + i * 1e-5;
        double lon = -31.5 + dice.nextDouble() * 1e-4;
        if (tcx) tcxFix(lat, lon);
        else gpxFix(lat, lon);
        odd();
      }
      gap();
      text.append(
          tcx
              ? "</Track></Lap></Activity></Activities></TrainingCenterDatabase>"
              : "</trkseg></trk></gpx>");
      return text.toString();
    }
  }

  @ParameterizedTest
  @ValueSource(booleans = {false, true})
  void whateverARecorderDoes(boolean tcx) {
    for (int seed = 0; seed < 400; seed++)
      sameBothWays(
          new Recorder(seed, tcx)
              .file(seed % 40 == 0 ? 3_000 : 40)
              .getBytes(StandardCharsets.UTF_8),
          "seed " + seed);
  }

  @ParameterizedTest
  @ValueSource(booleans = {false, true})
  void whereverAFileIsHurt(boolean tcx) {
    for (int seed = 0; seed < 1_500; seed++) {
      byte[] whole = new Recorder(seed % 50, tcx).file(30).getBytes(StandardCharsets.UTF_8);
      sameBothWays(hurt(whole, new SplittableRandom(seed)), "seed " + seed);
    }
  }

  private static byte[] hurt(byte[] bytes, SplittableRandom dice) {
    byte[] out = bytes.clone();
    int hits = dice.nextInt(1, 4);
    for (int h = 0; h < hits; h++) {
      int at = dice.nextInt(out.length);
      switch (dice.nextInt(4)) {
        case 0 -> out[at] = (byte) dice.nextInt(256);
        case 1 -> out[at] = (byte) "<>/\"' &=-0x".charAt(dice.nextInt(11));
        case 2 -> out = Arrays.copyOf(out, Math.max(40, at));
        default -> out = doubled(out, at, Math.min(out.length, at + dice.nextInt(1, 300)));
      }
    }
    return out;
  }

  private static byte[] doubled(byte[] bytes, int from, int to) {
    byte[] out = new byte[bytes.length + to - from];
    System.arraycopy(bytes, 0, out, 0, to);
    System.arraycopy(bytes, from, out, to, bytes.length - from);
    return out;
  }

  /** Inputs that a fuzzer once took an interest in, and what it began with. */
  @ParameterizedTest
  @ValueSource(strings = {"GpxFuzzInputs", "TcxFuzzInputs", "KmlFuzzInputs"})
  void whatTheFuzzerTried(String folder) throws IOException {
    Path files = Path.of("src/test/resources/milewarden/format/fuzz", folder);
    List<Path> all = new ArrayList<>();
    try (Stream<Path> walk = Files.walk(files)) {
      walk.filter(Files::isRegularFile).forEach(all::add);
    }
    assertThat(all).isNotEmpty();
    for (Path file : all) sameBothWays(Files.readAllBytes(file), file.toString());
  }

  @Test
  void mostFixesAreReadAhead() throws IOException {
    byte[] bytes = new Recorder(1, false).file(3_000).getBytes(StandardCharsets.UTF_8);
    FixRuns runs = new FixRuns(new ByteArrayInputStream(bytes));
    runs.take(FixMarkup.GPX);
    long left = runs.readAllBytes().length;
    // One in sixty values is odd, and one in sixty elements missing, eight or so of either in a fix
    // and around it: a fifth of the fixes are the parser's.
    assertThat(left).isLessThan(bytes.length / 2);
  }
}
