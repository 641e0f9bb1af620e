package milewarden.format.pack;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.zip.GZIPOutputStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import milewarden.format.TrackFormats;
import milewarden.track.Issue;
import milewarden.track.TrackRead;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

final class PackedTest {
  private static final byte[] TRACK = track(1000);

  /** A table whose digits do not repeat: packed, it stays long. */
  private static byte[] track(int rows) {
    Random random = new Random(20260512);
    StringBuilder text = new StringBuilder("lat,lon\n");
    for (int i = 0; i < rows; i++) text.append(random.nextDouble()).append(",1.5\n");
    return text.toString().getBytes(StandardCharsets.UTF_8);
  }

  private static byte[] gzip(byte[] bytes) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (GZIPOutputStream gzip = new GZIPOutputStream(out)) {
      gzip.write(bytes);
    }
    return out.toByteArray();
  }

  private static byte[] zip(Map<String, byte[]> files) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (ZipOutputStream zip = new ZipOutputStream(out)) {
      for (Map.Entry<String, byte[]> e : files.entrySet()) {
        zip.putNextEntry(new ZipEntry(e.getKey()));
        zip.write(e.getValue());
      }
    }
    return out.toByteArray();
  }

  private static TrackRead read(byte[] bytes) {
    return TrackFormats.read(new ByteArrayInputStream(bytes));
  }

  private static TrackRead.Usable usable(byte[] bytes) {
    return read(bytes)
        .fold(
            u -> u,
            r -> {
              throw new AssertionError("refused: " + r.why());
            });
  }

  private static Issue.Kind refused(byte[] bytes) {
    return read(bytes)
        .fold(
            u -> {
              throw new AssertionError("read: " + u.drops());
            },
            r -> r.why().kind());
  }

  @Test
  void aPackedRecordingIsReadAsIfItWereNot() throws IOException {
    double[] expected = usable(TRACK).track().latitudesDeg();
    assertThat(usable(gzip(TRACK)).track().latitudesDeg()).containsExactly(expected);
    assertThat(usable(zip(Map.of("a/b.csv", TRACK))).track().latitudesDeg())
        .containsExactly(expected);
  }

  @Test
  void picturesAndNotesBesideTheRecordingDoNotMatter() throws IOException {
    Map<String, byte[]> files = new LinkedHashMap<>();
    files.put("files/icon.png", new byte[] {(byte) 0x89, 'P', 'N', 'G'});
    files.put("doc.csv", TRACK);
    files.put("__packer/doc.csv", TRACK);
    files.put(".hidden.csv", TRACK);
    assertThat(usable(zip(files)).track().size()).isEqualTo(1000);
  }

  @Test
  void severalRecordingsInOneAreNotMixed() throws IOException {
    assertThat(refused(zip(Map.of("a.csv", TRACK, "b.csv", track(10)))))
        .isEqualTo(Issue.Kind.SEVERAL_RECORDINGS);
    assertThat(refused(zip(Map.of()))).isEqualTo(Issue.Kind.NOT_A_TRACK);
    assertThat(refused(zip(Map.of("notes.txt", new byte[] {'h', 'i'}))))
        .isEqualTo(Issue.Kind.NOT_A_TRACK);
  }

  @Test
  void whatBreaksOffKeepsWhatCameOutBefore() throws IOException {
    for (byte[] packed : List.of(gzip(TRACK), zip(Map.of("a.csv", TRACK)))) {
      TrackRead.Usable read = usable(Arrays.copyOf(packed, packed.length / 2));
      assertThat(read.track().size()).isBetween(100, 999);
      assertThat(read.drops().truncated()).isTrue();
      assertThat(read.drops().kept() + read.drops().dropped()).isEqualTo(read.drops().seen());
      for (int length = 5; length < 40; length++) {
        byte[] start = Arrays.copyOf(packed, length);
        assertThat(refused(start)).isIn(Issue.Kind.MALFORMED, Issue.Kind.NOT_A_TRACK);
      }
    }
  }

  @Test
  void aChangedByteIsNoticed() throws IOException {
    byte[] packed = gzip(TRACK);
    packed[packed.length - 6] ^= 1; // the checksum of what was packed
    assertThat(usable(packed).drops().truncated()).isTrue();
  }

  @Test
  void aBombIsStoppedAtItsBound() throws IOException {
    byte[] zeros = new byte[1 << 20];
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (ZipOutputStream zip = new ZipOutputStream(out)) {
      zip.putNextEntry(new ZipEntry("a.bin"));
      for (int i = 0; i < 64; i++) zip.write(zeros);
    }
    Optional<Issue> why =
        Zip.each(
            new byte[0],
            new ByteArrayInputStream(out.toByteArray()),
            8 << 20,
            (name, bytes) -> true);
    assertThat(why).map(Issue::kind).contains(Issue.Kind.PACKED_TOO_MUCH);
  }

  @Test
  void tooManyFilesAreStoppedAtTheirBound() throws IOException {
    Map<String, byte[]> files = new LinkedHashMap<>();
    for (int i = 0; i <= Zip.MOST_ENTRIES; i++) files.put("f" + i, new byte[0]);
    List<String> names = new ArrayList<>();
    Optional<Issue> why =
        Zip.each(
            new byte[0],
            new ByteArrayInputStream(zip(files)),
            1 << 20,
            (name, bytes) -> names.add(name));
    assertThat(why).map(Issue::kind).contains(Issue.Kind.PACKED_TOO_MUCH);
    assertThat(names).hasSize(Zip.MOST_ENTRIES);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "a/b/c.gpx|a/b/c.gpx",
        "../../etc/cron.d/x|etc/cron.d/x",
        "/absolute/a.gpx|absolute/a.gpx",
        "C:\\\\runs\\\\a.gpx|C/runs/a.gpx",
        "a/./../b.gpx|a/b.gpx",
        "..|unnamed",
        "'  spaced . '|spaced",
      })
  void namesCannotLeaveTheirFolder(String name, String safe) {
    assertThat(EntryName.safe(name.replace("\\\\", "\\"))).isEqualTo(safe);
  }

  @Test
  void marksThatTurnOrBreakATextAreTakenOutOfNames() {
    assertThat(EntryName.safe("run\u202Egpx.exe\u0000\n\u200F.gpx")).isEqualTo("rungpx.exe.gpx");
    assertThat(EntryName.safe("x".repeat(500))).hasSize(120);
  }
}
