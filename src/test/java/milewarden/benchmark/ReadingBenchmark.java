package milewarden.benchmark;

import com.fasterxml.aalto.stax.InputFactoryImpl;
import io.jenetics.jpx.GPX;
import io.jenetics.jpx.WayPoint;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;
import milewarden.format.GeoJsonWriter;
import milewarden.format.TrackFormats;
import milewarden.simulator.InventedCourse;
import milewarden.simulator.Receiver;
import milewarden.simulator.Sky;
import milewarden.simulator.TrackSimulator;
import milewarden.simulator.Walk;
import milewarden.track.Track;

/**
 * Processor time of reading an hour's recording of each format into arrays, side by side with jpx
 * 3.2.1, whose fixes are objects, and with the bare scan of the tokens by the XML parser that ours
 * rests on: {@code java -cp target/test-classes:target/classes:...
 * milewarden.benchmark.ReadingBenchmark}. Each round does all in turn; medians; every side must
 * find every fix. Context, not a test: nothing here decides anything.
 */
public final class ReadingBenchmark {
  private static final int ROUNDS = 9;
  private static final int REPEATS = 3;
  private static final int WARM = 300;

  /** Of the slower side: a minute for all of it together. */
  private static final int WARM_JPX = 60;

  private static final Track HOUR =
      TrackSimulator.simulate(
              Walk.of(
                      InventedCourse.straight(
                          "pier", new milewarden.geodesy.Position(1, 2), 30, 5000))
                  .withStart(Instant.parse("2026-05-12T07:00:00Z")),
              Receiver.PERFECT.withNoise(3, 20, 0.3),
              Sky.CLEAR,
              1)
          .track();

  private ReadingBenchmark() {}

  private record Side(byte[] bytes, ToDoubleFunction<byte[]> fixes, boolean slow) {
    Side(byte[] bytes, ToDoubleFunction<byte[]> fixes) {
      this(bytes, fixes, false);
    }
  }

  public static void main(String[] args) {
    byte[] min = utf8(gpx(""));
    byte[] ext =
        utf8(
            gpx(
                "<extensions><t:tpx xmlns:t=\"urn:t\"><t:atemp>17</t:atemp><t:hr>131</t:hr>"
                    + "<t:cad>82</t:cad><t:speed>1.41</t:speed></t:tpx></extensions>"));
    Map<String, Side> sides = new LinkedHashMap<>();
    sides.put("GPX", new Side(min, ReadingBenchmark::ours));
    sides.put("GPX, jpx", new Side(min, ReadingBenchmark::jpx, true));
    sides.put("GPX, token scan", new Side(min, ReadingBenchmark::scan));
    sides.put("GPX with extensions", new Side(ext, ReadingBenchmark::ours));
    sides.put("GPX with extensions, jpx", new Side(ext, ReadingBenchmark::jpx, true));
    sides.put("GPX with extensions, token scan", new Side(ext, ReadingBenchmark::scan));
    sides.put("GeoJSON", new Side(utf8(GeoJsonWriter.write(HOUR)), ReadingBenchmark::ours));
    sides.put("CSV", new Side(utf8(csv()), ReadingBenchmark::ours));
    sides.put("NMEA 0183, RMC", new Side(utf8(nmea()), ReadingBenchmark::ours));
    sides.put("TCX", new Side(utf8(tcx()), ReadingBenchmark::ours));
    sides.put("FIT", new Side(fit(), ReadingBenchmark::ours));
    double[][] ns = new double[sides.size()][ROUNDS];
    for (int round = -WARM; round < ROUNDS; round++) {
      int s = 0;
      for (Side side : sides.values()) {
        boolean cold = round < -WARM_JPX && side.slow();
        if (!cold) {
          double took = timed(side, round < 0 ? 1 : REPEATS);
          if (round >= 0) ns[s][round] = took;
        }
        s++;
      }
    }
    System.out.printf(
        Locale.ROOT,
        "%d fixes; nanoseconds of processor a fix, median of %d%n",
        HOUR.size(),
        ROUNDS);
    Map<String, Double> medians = new LinkedHashMap<>();
    int s = 0;
    for (Map.Entry<String, Side> e : sides.entrySet()) {
      Arrays.sort(ns[s]);
      medians.put(e.getKey(), ns[s][ROUNDS / 2]);
      System.out.printf(
          Locale.ROOT,
          "%-32s %8.0f  %4d bytes a fix%n",
          e.getKey(),
          ns[s++][ROUNDS / 2],
          e.getValue().bytes().length / HOUR.size());
    }
    for (String of : new String[] {"GPX", "GPX with extensions"})
      System.out.printf(
          Locale.ROOT,
          "%s: jpx / ours %.1f, ours / token scan %.2f%n",
          of,
          medians.get(of + ", jpx") / medians.get(of),
          medians.get(of) / medians.get(of + ", token scan"));
  }

  private static double timed(Side side, int repeats) {
    double sum = 0;
    long a = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    for (int r = 0; r < repeats; r++) sum += side.fixes().applyAsDouble(side.bytes());
    long b = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
    if (sum != (double) repeats * HOUR.size()) throw new IllegalStateException("fixes: " + sum);
    return (b - a) / sum;
  }

  private static double ours(byte[] bytes) {
    return TrackFormats.read(new ByteArrayInputStream(bytes))
        .fold(
            u -> u.track().size(),
            r -> {
              throw new IllegalStateException("" + r.why());
            });
  }

  private static double jpx(byte[] bytes) {
    try {
      return GPX.Reader.DEFAULT
          .read(new ByteArrayInputStream(bytes))
          .tracks()
          .flatMap(t -> t.segments())
          .flatMap(s -> s.points())
          .filter(WayPoint.class::isInstance)
          .count();
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  private static double scan(byte[] bytes) {
    try {
      XMLStreamReader xml =
          new InputFactoryImpl().createXMLStreamReader(new ByteArrayInputStream(bytes));
      int fixes = 0;
      while (xml.hasNext())
        if (xml.next() == XMLStreamReader.START_ELEMENT && xml.getLocalName().equals("trkpt"))
          fixes++;
      return fixes;
    } catch (XMLStreamException e) {
      throw new IllegalStateException(e);
    }
  }

  private static byte[] utf8(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  /** One record message a fix: time, position, height. Its checksum is wrong, which is said. */
  private static byte[] fit() {
    int data = 18 + 15 * HOUR.size();
    ByteBuffer file = ByteBuffer.allocate(14 + data + 2).order(ByteOrder.LITTLE_ENDIAN);
    file.put((byte) 14).put((byte) 0x10).putShort((short) 2132).putInt(data);
    file.put(".FIT".getBytes(StandardCharsets.US_ASCII)).putShort((short) 0);
    // Definition of local message 0: global message 20, four fields of number, size, base type.
    file.put((byte) 0x40).put((byte) 0).put((byte) 0).putShort((short) 20).put((byte) 4);
    file.put(new byte[] {(byte) 253, 4, (byte) 0x86, 0, 4, (byte) 0x85, 1, 4, (byte) 0x85});
    file.put(new byte[] {2, 2, (byte) 0x84});
    for (int i = 0; i < HOUR.size(); i++)
      file.put((byte) 0)
          // Seconds since 1989-12-31T00:00:00Z.
          .putInt((int) (HOUR.timesMs()[i] / 1000 - 631_065_600L))
          .putInt((int) Math.round(HOUR.latitudesDeg()[i] / 180 * (1L << 31)))
          .putInt((int) Math.round(HOUR.longitudesDeg()[i] / 180 * (1L << 31)))
          .putShort((short) ((34.5 + 500) * 5));
    return file.array();
  }

  private static String time(int i) {
    return Instant.ofEpochMilli(HOUR.timesMs()[i]).toString();
  }

  /** Position, height and time, and more in each fix. */
  private static String gpx(String more) {
    StringBuilder text =
        new StringBuilder(
            "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\" creator=\"x\""
                + " xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>\n");
    for (int i = 0; i < HOUR.size(); i++)
      text.append(place("<trkpt lat=\"%.7f\" lon=\"%.7f\">", i))
          .append("<ele>34.5</ele><time>")
          .append(time(i))
          .append("</time>")
          .append(more)
          .append("</trkpt>\n");
    return text + "</trkseg></trk></gpx>\n";
  }

  private static String csv() {
    StringBuilder text = new StringBuilder("time,lat,lon,ele\n");
    for (int i = 0; i < HOUR.size(); i++)
      text.append(time(i)).append(',').append(place("%.7f,%.7f", i)).append(",34.5\n");
    return text.toString();
  }

  private static String place(String format, int i) {
    return String.format(Locale.ROOT, format, HOUR.latitudesDeg()[i], HOUR.longitudesDeg()[i]);
  }

  private static String nmea() {
    StringBuilder log = new StringBuilder();
    for (int i = 0; i < HOUR.size(); i++) {
      double lat = HOUR.latitudesDeg()[i];
      double lon = HOUR.longitudesDeg()[i];
      String body =
          String.format(
              Locale.ROOT,
              "GPRMC,%s.00,A,%02d%09.6f,N,%03d%09.6f,E,3.9,30.0,120526,,,A",
              time(i).substring(11, 19).replace(":", ""),
              (int) lat,
              (lat - (int) lat) * 60,
              (int) lon,
              (lon - (int) lon) * 60);
      int sum = 0;
      for (char c : body.toCharArray()) sum ^= c;
      log.append(String.format(Locale.ROOT, "$%s*%02X\r\n", body, sum));
    }
    return log.toString();
  }

  private static String tcx() {
    StringBuilder text =
        new StringBuilder("<TrainingCenterDatabase><Activities><Activity><Lap><Track>");
    for (int i = 0; i < HOUR.size(); i++)
      text.append("<Trackpoint><Time>")
          .append(time(i))
          .append("</Time><Position>")
          .append(
              place(
                  "<LatitudeDegrees>%.7f</LatitudeDegrees><LongitudeDegrees>%.7f</LongitudeDegrees>",
                  i))
          .append("</Position><AltitudeMeters>34.5</AltitudeMeters></Trackpoint>\n");
    return text + "</Track></Lap></Activity></Activities></TrainingCenterDatabase>";
  }
}
