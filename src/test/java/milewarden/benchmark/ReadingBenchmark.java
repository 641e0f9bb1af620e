package milewarden.benchmark;

import com.fasterxml.aalto.stax.InputFactoryImpl;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;

/**
 * Reading an hour's recording of each format into arrays, side by side with jpx, whose fixes are
 * objects, with the bare scan of the tokens by the XML parser that ours rests on, and with what no
 * reader can do without: to bring the file into memory and to hash it.
 */
@State(Scope.Benchmark)
public class ReadingBenchmark {
  private static final byte[] MIN = Hour.LOOP_MIN.gpx;
  private static final byte[] EXT = Hour.LOOP_EXT.gpx;
  private final byte[] csv = TrackFiles.csv(Hour.LOOP_MIN.track);
  private final byte[] nmea = TrackFiles.nmea(Hour.LOOP_MIN.track);
  private final byte[] tcx = TrackFiles.tcx(Hour.LOOP_MIN.track);
  private final byte[] fit = TrackFiles.fit(Hour.LOOP_MIN.track);
  private final byte[] geoJson = TrackFiles.geoJson(Hour.LOOP_MIN.track);
  private final Path file;

  public ReadingBenchmark() {
    try {
      file = Files.write(Files.createTempFile("hour-", ".gpx"), MIN);
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
    file.toFile().deleteOnExit();
  }

  @Benchmark
  public int fileAlone() throws IOException {
    return Files.readAllBytes(file).length;
  }

  @Benchmark
  public byte[] sha256() throws NoSuchAlgorithmException {
    return MessageDigest.getInstance("SHA-256").digest(MIN);
  }

  @Benchmark
  public int gpxMin() {
    return fixes(MIN);
  }

  @Benchmark
  public int gpxMinScan() throws XMLStreamException {
    return scan(MIN);
  }

  @Benchmark
  public int gpxExt() {
    return fixes(EXT);
  }

  @Benchmark
  public int gpxExtScan() throws XMLStreamException {
    return scan(EXT);
  }

  @Benchmark
  public int gpxMinJpx() throws IOException {
    return all(PipelineBenchmark.jpx(MIN).size());
  }

  @Benchmark
  public int gpxExtJpx() throws IOException {
    return all(PipelineBenchmark.jpx(EXT).size());
  }

  @Benchmark
  public int fit() {
    return fixes(fit);
  }

  @Benchmark
  public int tcx() {
    return fixes(tcx);
  }

  @Benchmark
  public int nmea() {
    return fixes(nmea);
  }

  @Benchmark
  public int csv() {
    return fixes(csv);
  }

  @Benchmark
  public int geoJson() {
    return fixes(geoJson);
  }

  private static int fixes(byte[] bytes) {
    return all(PipelineBenchmark.read(bytes).size());
  }

  private static int scan(byte[] bytes) throws XMLStreamException {
    XMLStreamReader xml =
        new InputFactoryImpl().createXMLStreamReader(new ByteArrayInputStream(bytes));
    int fixes = 0;
    while (xml.hasNext())
      if (xml.next() == XMLStreamReader.START_ELEMENT && xml.getLocalName().equals("trkpt"))
        fixes++;
    return all(fixes);
  }

  /** Every side finds every fix. */
  private static int all(int fixes) {
    if (fixes != Hour.LOOP_MIN.track.size()) throw new IllegalStateException("fixes: " + fixes);
    return fixes;
  }
}
