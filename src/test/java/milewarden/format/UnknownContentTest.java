package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.zip.GZIPOutputStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import milewarden.track.Issue;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

final class UnknownContentTest {
  private static Issue refused(byte[] bytes) {
    return TrackFormats.read(new ByteArrayInputStream(bytes))
        .fold(
            u -> {
              throw new AssertionError("read: " + u);
            },
            r -> r.why());
  }

  private static byte[] gzip(byte[] bytes) throws IOException {
    ByteArrayOutputStream packed = new ByteArrayOutputStream();
    try (GZIPOutputStream out = new GZIPOutputStream(packed)) {
      out.write(bytes);
    }
    return packed.toByteArray();
  }

  private static byte[] zip(String name, byte[] bytes) throws IOException {
    ByteArrayOutputStream packed = new ByteArrayOutputStream();
    try (ZipOutputStream out = new ZipOutputStream(packed)) {
      out.putNextEntry(new ZipEntry(name));
      out.write(bytes);
    }
    return packed.toByteArray();
  }

  private static byte[] utf8(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  @ParameterizedTest
  @CsvSource({
    "'Dear all, here is my run', 'begins with \"Dear all, here is my run\"'",
    "'<!DOCTYPE html><html><body>Log in</body></html>', 'web page'",
    "' <HTML><body>Log in</body></HTML>', 'web page'",
    "'a;b;c', 'headings name no latitude and longitude: \"a;b;c\"'",
    "'Zeit;Breite;Höhe;km', '\"Zeit;Breite;Höhe;km\"'"
  })
  void whatIsNoRecordingIsToldByWhatItIs(String text, String said) {
    assertThat(refused(utf8(text)).kind()).isEqualTo(Issue.Kind.NOT_A_TRACK);
    assertThat(refused(utf8(text)).detail()).contains(said);
  }

  @Test
  void whatIsPackedTwiceIsToldToBeUnpackedOnce() throws IOException {
    byte[] once = zip("a.gpx", utf8("<gpx/>"));
    assertThat(refused(gzip(gzip(utf8("x")))).detail()).contains("packed once more");
    assertThat(refused(zip("inner.zip", once)).detail()).startsWith("inner.zip: it is packed");
  }

  @Test
  void theOnlyFileOfAZipIsNamedWhereItIsNoRecording() throws IOException {
    assertThat(refused(zip("readme.txt", utf8("hello"))).detail())
        .isEqualTo("readme.txt: begins with \"hello\"");
  }

  @Test
  void anotherDocumentTypeThanAWebPagesIsRefusedAsOne() {
    assertThat(refused(utf8("<!DOCTYPE gpx><gpx/>")).kind()).isEqualTo(Issue.Kind.DOCTYPE);
  }
}
