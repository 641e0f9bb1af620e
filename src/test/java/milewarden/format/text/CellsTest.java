package milewarden.format.text;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

final class CellsTest {
  private static final String SIGNS = "52.13 ;,\té°'Z-";

  private static List<String> ours(Cells cells) {
    List<String> found = new ArrayList<>();
    for (int i = 0; i < cells.count(); i++) found.add(cells.text(i));
    return found;
  }

  /** Blanks and control signs around it; the JDK's trim takes off the same. */
  private static List<String> theirs(String row, char separator) {
    List<String> found = new ArrayList<>();
    for (String cell : row.split(Pattern.quote(String.valueOf(separator)), -1))
      found.add(cell.trim());
    return found;
  }

  @ParameterizedTest
  @ValueSource(chars = {',', ';', '\t'})
  void aRowWithoutQuotesIsCutAsTheJdkCutsIt(char separator) {
    Random random = new Random(20261127);
    for (int i = 0; i < 3_000; i++) {
      StringBuilder row = new StringBuilder();
      int length = random.nextInt(1, 160);
      for (int s = 0; s < length; s++) row.append(SIGNS.charAt(random.nextInt(SIGNS.length())));
      Cells cells = new Cells(separator);
      cells.cut(row.toString());
      assertThat(ours(cells)).as("%s", row).isEqualTo(theirs(row.toString(), separator));
      cells.cut(Reading.line("x" + row));
      assertThat(ours(cells)).as("%s", row).isEqualTo(theirs("x" + row, separator));
    }
  }

  @Test
  void aQuotedCellHoldsItsSeparatorsAndSecondsOfArcAreNoQuotes() {
    Cells cells = new Cells(',');
    cells.cut("\"a,b\", \"c\" ,52°30'10.5\",,\"\"");
    assertThat(ours(cells)).containsExactly("a,b", "c", "52°30'10.5\"", "", "");
  }

  @Test
  void cellsBehindThe512thAreNotLookedAt() {
    Cells cells = new Cells(',');
    cells.cut(",".repeat(600));
    assertThat(cells.count()).isEqualTo(512);
  }
}
