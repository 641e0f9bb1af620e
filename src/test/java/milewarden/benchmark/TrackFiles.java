package milewarden.benchmark;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Locale;
import milewarden.format.GeoJsonWriter;
import milewarden.track.Track;

/** One track as the files of several formats; its height is made up. */
final class TrackFiles {
  /** What a device with sensors adds to each fix. */
  static final String EXTENSIONS =
      "<extensions><t:tpx xmlns:t=\"urn:t\"><t:atemp>17</t:atemp><t:hr>131</t:hr><t:cad>82</t:cad>"
          + "<t:speed>2.78</t:speed><t:course>211.4</t:course></t:tpx></extensions>";

  private TrackFiles() {}

  /** Position, height and time, and more in each fix. */
  static byte[] gpx(Track track, String more) {
    StringBuilder text =
        new StringBuilder(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\" creator=\"x\""
                + " xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>\n");
    for (int i = 0; i < track.size(); i++)
      text.append(place("<trkpt lat=\"%.7f\" lon=\"%.7f\">", track, i))
          .append("<ele>34.5</ele><time>")
          .append(time(track, i))
          .append("</time>")
          .append(more)
          .append("</trkpt>\n");
    return utf8(text.append("</trkseg></trk></gpx>\n"));
  }

  static byte[] geoJson(Track track) {
    return GeoJsonWriter.write(track).getBytes(StandardCharsets.UTF_8);
  }

  static byte[] csv(Track track) {
    StringBuilder text = new StringBuilder("time,lat,lon,ele\n");
    for (int i = 0; i < track.size(); i++)
      text.append(time(track, i))
          .append(',')
          .append(place("%.7f,%.7f", track, i))
          .append(",34.5\n");
    return utf8(text);
  }

  /** One sentence RMC a fix. */
  static byte[] nmea(Track track) {
    StringBuilder log = new StringBuilder();
    for (int i = 0; i < track.size(); i++) {
      double lat = track.latitudesDeg()[i];
      double lon = track.longitudesDeg()[i];
      String body =
          String.format(
              Locale.ROOT,
              "GPRMC,%s.00,A,%02d%09.6f,%s,%03d%09.6f,%s,3.9,30.0,120526,,,A",
              time(track, i).substring(11, 19).replace(":", ""),
              (int) Math.abs(lat),
              Math.abs(lat) % 1 * 60,
              lat < 0 ? "S" : "N",
              (int) Math.abs(lon),
              Math.abs(lon) % 1 * 60,
              lon < 0 ? "W" : "E");
      int sum = 0;
      for (char c : body.toCharArray()) sum ^= c;
      log.append(String.format(Locale.ROOT, "$%s*%02X\r\n", body, sum));
    }
    return utf8(log);
  }

  static byte[] tcx(Track track) {
    StringBuilder text =
        new StringBuilder("<TrainingCenterDatabase><Activities><Activity><Lap><Track>");
    for (int i = 0; i < track.size(); i++)
      text.append("<Trackpoint><Time>")
          .append(time(track, i))
          .append("</Time><Position>")
          .append(
              place(
                  "<LatitudeDegrees>%.7f</LatitudeDegrees><LongitudeDegrees>%.7f</LongitudeDegrees>",
                  track, i))
          .append("</Position><AltitudeMeters>34.5</AltitudeMeters></Trackpoint>\n");
    return utf8(text.append("</Track></Lap></Activity></Activities></TrainingCenterDatabase>"));
  }

  /** One record message a fix: time, position, height. Its checksum is wrong, which is said. */
  static byte[] fit(Track track) {
    int data = 18 + 15 * track.size();
    ByteBuffer file = ByteBuffer.allocate(14 + data + 2).order(ByteOrder.LITTLE_ENDIAN);
    file.put((byte) 14).put((byte) 0x10).putShort((short) 2132).putInt(data);
    file.put(".FIT".getBytes(StandardCharsets.US_ASCII)).putShort((short) 0);
    // Definition of local message 0: global message 20, four fields of number, size, base type.
    file.put((byte) 0x40).put((byte) 0).put((byte) 0).putShort((short) 20).put((byte) 4);
    file.put(new byte[] {(byte) 253, 4, (byte) 0x86, 0, 4, (byte) 0x85, 1, 4, (byte) 0x85});
    file.put(new byte[] {2, 2, (byte) 0x84});
    for (int i = 0; i < track.size(); i++)
      file.put((byte) 0)
          // Seconds since 1989-12-31T00:00:00Z.
          .putInt((int) (track.timesMs()[i] / 1000 - 631_065_600L))
          .putInt((int) Math.round(track.latitudesDeg()[i] / 180 * (1L << 31)))
          .putInt((int) Math.round(track.longitudesDeg()[i] / 180 * (1L << 31)))
          .putShort((short) ((34.5 + 500) * 5));
    return file.array();
  }

  private static String time(Track track, int i) {
    return Instant.ofEpochMilli(track.timesMs()[i]).toString();
  }

  private static String place(String format, Track track, int i) {
    return String.format(Locale.ROOT, format, track.latitudesDeg()[i], track.longitudesDeg()[i]);
  }

  private static byte[] utf8(StringBuilder text) {
    return text.toString().getBytes(StandardCharsets.UTF_8);
  }
}
