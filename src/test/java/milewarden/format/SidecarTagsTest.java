package milewarden.format;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import milewarden.track.SheetProblem;
import milewarden.track.SheetRead;
import milewarden.track.TagName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

final class SidecarTagsTest {
  private static SheetRead read(String text) {
    return SidecarTags.read(text.getBytes(StandardCharsets.UTF_8), "a.gpx");
  }

  private static SheetRead.Usable usable(String text) {
    return read(text)
        .fold(
            u -> u,
            r -> {
              throw new AssertionError("refused: " + r.why());
            });
  }

  @Test
  void itsLinesAreTagsAndNumbersKeepTheirDecimals() {
    SheetRead.Usable read =
        usable("unit: One\nfirmware: 2.10\nshown: 0.250\nshown_unit: mi\nrounding: truncated\n");
    assertThat(read.rows()).hasSize(1);
    assertThat(read.rows().get(0).file()).contains("a.gpx");
    assertThat(read.rows().get(0).tags())
        .containsEntry(TagName.UNIT, "One")
        .containsEntry(TagName.FIRMWARE, "2.10")
        .containsEntry(TagName.SHOWN, "0.250");
    assertThat(read.problems()).isEmpty();
  }

  @Test
  void aListIsOneValueForEachPass() {
    SheetRead.Usable read = usable("unit: One\nshown: [0.25, 0.26]\nshown_unit: mi\n");
    assertThat(read.rows()).hasSize(2);
    assertThat(read.rows().get(1).tags())
        .containsEntry(TagName.SHOWN, "0.26")
        .containsEntry(TagName.UNIT, "One");
  }

  @Test
  void whatIsNoTagIsKeptAndABadValueIsTold() {
    SheetRead.Usable read = usable("unit: One\nmood: good, calm\ngait: hopping\n");
    assertThat(read.unknownColumns()).containsExactly("mood");
    assertThat(read.rows().get(0).extra()).containsEntry("mood", "good, calm");
    assertThat(read.problems())
        .extracting(SheetProblem::kind)
        .containsExactly(SheetProblem.Kind.UNKNOWN_CODE);
  }

  @ParameterizedTest
  @ValueSource(strings = {"- a\n- b", "unit: [a", "", "just words"})
  void whatIsNoListOfNamesAndValuesIsRefused(String text) {
    SheetProblem why =
        read(text)
            .fold(
                u -> {
                  throw new AssertionError("read: " + u);
                },
                r -> r.why());
    assertThat(why.kind()).isEqualTo(SheetProblem.Kind.NO_TAGS);
  }

  @Test
  void nestsAndAliasesDoNoHarm() {
    StringBuilder bomb = new StringBuilder("a: &a [x, x, x, x, x, x, x, x]\n");
    for (char c = 'b'; c <= 'i'; c++)
      bomb.append(c)
          .append(": &")
          .append(c)
          .append(" [")
          .append(("*" + (char) (c - 1) + ", ").repeat(8))
          .append("*")
          .append((char) (c - 1))
          .append("]\n");
    SheetRead read = read(bomb.toString());
    int rows = read.fold(u -> u.rows().size(), r -> 0);
    assertThat(rows).isLessThanOrEqualTo(9);
    assertThat(usable("unit: {a: {b: c}}\nfirmware: 1.0\n").rows().get(0).tags())
        .containsOnlyKeys(TagName.FIRMWARE);
  }
}
