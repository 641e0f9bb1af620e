package milewarden.format;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import milewarden.track.DeviceClaim;
import milewarden.track.Track;

/**
 * Writes a track as GPX 1.1. Degrees carry nine decimals less their trailing zeros; the device's
 * own cumulative distance stands in an element {@code distance} of the namespace {@value
 * #NAMESPACE} among the extensions of each fix, in metres with two decimals, its cadence in one
 * {@code cad}; name and software version are the creator text, one blank between. The document is
 * valid by the schema of GPX 1.1.
 */
public final class GpxWriter {
  /** The namespace of what GPX itself has no element for. */
  public static final String NAMESPACE = "urn:milewarden:track:1";

  private static final int DECIMALS = 9;

  private static final double HALF_OF_LAST = 0.5e-9;

  // 1,964 years from 1970 to either side: years of four digits. A clock may say anything.
  private static final long LATEST_MS = 62_000_000_000_000L;

  /** What is written lies in memory up to so many characters, and then goes on its way. */
  private static final int PIECE = 1 << 16;

  private final Track track;
  private final OutputStream to;
  private final StringBuilder text = new StringBuilder(PIECE + 500);

  private GpxWriter(Track track, OutputStream to) {
    this.track = track;
    this.to = to;
  }

  /** The whole document as UTF-8 text. */
  public static String write(Track track) {
    ByteArrayOutputStream all = new ByteArrayOutputStream();
    write(track, all);
    return all.toString(StandardCharsets.UTF_8);
  }

  /**
   * Writes the document, piece by piece; the stream stays open.
   *
   * @throws UncheckedIOException where the stream fails
   */
  public static void write(Track track, OutputStream to) {
    try {
      new GpxWriter(track, to).document();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void send() throws IOException {
    to.write(text.toString().getBytes(StandardCharsets.UTF_8));
    text.setLength(0);
  }

  private void document() throws IOException {
    text.append("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\" creator=\"")
        .append(escaped(creator(track.claim())))
        .append("\" xmlns=\"http://www.topografix.com/GPX/1/1\" xmlns:mw=\"")
        .append(NAMESPACE)
        .append("\">\n<trk>\n");
    for (int segment = 0; segment < track.segments(); segment++) {
      text.append("<trkseg>\n");
      for (int i = track.segmentStart(segment); i < track.segmentEnd(segment); i++) {
        fix(i);
        if (text.length() > PIECE) send();
      }
      text.append("</trkseg>\n");
    }
    text.append("</trk>\n</gpx>\n");
    send();
  }

  private void fix(int i) {
    text.append("<trkpt lat=\"");
    decimal(track.latitudesDeg()[i], DECIMALS);
    text.append("\" lon=\"");
    decimal(longitude(track.longitudesDeg()[i]), DECIMALS);
    text.append("\">");
    if (track.heightsM().length > 0 && Double.isFinite(track.heightsM()[i])) {
      text.append("<ele>");
      decimal(track.heightsM()[i], 3);
      text.append("</ele>");
    }
    if (track.hasTime(i) && Math.abs(track.timesMs()[i]) < LATEST_MS)
      text.append("<time>").append(Instant.ofEpochMilli(track.timesMs()[i])).append("</time>");
    boolean distance = track.distancesM().length > 0 && Double.isFinite(track.distancesM()[i]);
    boolean speed = track.speedsMps().length > 0 && Double.isFinite(track.speedsMps()[i]);
    boolean cadence =
        track.cadencesPerMin().length > 0 && Double.isFinite(track.cadencesPerMin()[i]);
    if (distance || speed || cadence) {
      text.append("<extensions>");
      if (distance) element("distance", track.distancesM()[i]);
      if (speed) element("speed", track.speedsMps()[i]);
      if (cadence) element("cad", track.cadencesPerMin()[i]);
      text.append("</extensions>");
    }
    text.append("</trkpt>\n");
  }

  /** The standard's longitudes end before 180, also after rounding. */
  private static double longitude(double degrees) {
    return degrees > 180 - HALF_OF_LAST ? -180 : degrees;
  }

  private void element(String name, double value) {
    text.append("<mw:").append(name).append('>');
    decimal(value, 2);
    text.append("</mw:").append(name).append('>');
  }

  /** A plain decimal without an exponent, at most {@code decimals} places; -0 is 0. */
  private void decimal(double value, int decimals) {
    long power = 1;
    for (int i = 0; i < decimals; i++) power *= 10;
    long scaled = Math.round(Math.abs(value) * power);
    if (value < 0 && scaled > 0) text.append('-');
    text.append(scaled / power);
    long rest = scaled % power;
    if (rest == 0) return;
    text.append('.');
    for (long unit = power / 10; rest > 0; unit /= 10) {
      text.append((char) ('0' + rest / unit));
      rest %= unit;
    }
  }

  // Empty where the track claims no device: a name of ours would be read back as its device.
  private static String creator(DeviceClaim claim) {
    String name = claim.name().orElse("");
    return claim.software().map(s -> name + " " + s).orElse(name);
  }

  private static String escaped(String value) {
    return value
        .codePoints()
        .filter(GpxWriter::isAllowed)
        .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
        .toString()
        .replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;");
  }

  /** XML 1.0, production 2: a device's name may hold any byte, a document may not. */
  private static boolean isAllowed(int sign) {
    return sign == 0x9
        || sign == 0xA
        || sign == 0xD
        || sign >= 0x20 && sign <= 0xD7FF
        || sign >= 0xE000 && sign <= 0xFFFD
        || sign >= 0x10000;
  }
}
