package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.MappingIterator;
import com.fasterxml.jackson.dataformat.csv.CsvMapper;
import com.fasterxml.jackson.dataformat.csv.CsvParser;
import com.fasterxml.jackson.dataformat.csv.CsvSchema;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.format.SheetWriter.Separator;
import milewarden.track.SheetRead;
import milewarden.track.SheetRow;
import milewarden.track.TagName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

final class SheetWriterTest {
  private static final SheetRow ROW =
      new SheetRow(
          2,
          Map.of(
              TagName.SESSION, "2026-05-12 Höhenweg, second",
              TagName.UNIT, "=1+1",
              TagName.PASS, "1",
              TagName.FIRMWARE, "2.10",
              TagName.SHOWN, "5.01",
              TagName.NOTES, "he said \"go\";\ntwice"),
          Optional.of("a b/run.gpx"),
          Map.of("as_typed", "5,01 km"));

  private static SheetRead.Usable read(byte[] sheet) {
    return SessionSheet.read(sheet)
        .fold(
            u -> u,
            r -> {
              throw new AssertionError(r.why());
            });
  }

  @ParameterizedTest
  @EnumSource(Separator.class)
  void whatIsWrittenIsReadAsTheSameRow(Separator separator) {
    SheetRead.Usable read = read(SheetWriter.write(List.of(ROW), separator));
    assertThat(read.problems()).isEmpty();
    assertThat(read.rows()).containsExactly(ROW);
  }

  /** Cells by another reader of RFC 4180, which knows nothing of sheets. */
  @Test
  void aReaderOfCommaSeparatedTextFindsTheCellsAndNoFormula() throws Exception {
    byte[] sheet = SheetWriter.write(List.of(ROW), Separator.COMMA);
    CsvMapper csv = new CsvMapper();
    String text = new String(sheet, StandardCharsets.UTF_8).substring(1);
    MappingIterator<String[]> lines =
        csv.readerFor(String[].class)
            .with(CsvParser.Feature.WRAP_AS_ARRAY)
            .with(CsvSchema.emptySchema())
            .readValues(text);
    List<String[]> all = lines.readAll();
    List<String> header = List.of(all.get(0));
    assertThat(header).startsWith("session", "date", "time", "file", "pass", "slot", "unit");
    assertThat(all.get(1)[header.indexOf("unit")]).isEqualTo("'=1+1");
    assertThat(all.get(1)[header.indexOf("notes")]).isEqualTo("he said \"go\";\ntwice");
    assertThat(all.get(1)[header.indexOf("as_typed")]).isEqualTo("5,01 km");
  }

  /** The bytes EF BB BF tell a spreadsheet that letters are UTF-8 (Unicode Standard, 23.8). */
  @Test
  void itIsMarkedAsUtf8AndItsLinesEndAsRfc4180Asks() {
    byte[] sheet = SheetWriter.write(List.of(ROW), Separator.SEMICOLON);
    assertThat(sheet).startsWith(0xEF, 0xBB, 0xBF);
    String text = new String(sheet, StandardCharsets.UTF_8);
    assertThat(text.lines().findFirst().orElseThrow()).contains("session;date;time;file;pass");
    assertThat(text).endsWith("\r\n");
  }
}
