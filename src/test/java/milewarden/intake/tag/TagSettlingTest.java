package milewarden.intake.tag;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import milewarden.intake.tag.TagSettling.Held;
import milewarden.intake.tag.TagSettling.Settled;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import org.junit.jupiter.api.Test;

/** The order of the sources is that of the tag rules: edit, sheet, sidecar, folder, file, ... */
final class TagSettlingTest {
  private static TagWords says(TagSource source, String unit) {
    return TagWords.ofWhole(source, Map.of(TagName.UNIT, unit), source.name());
  }

  @Test
  void theFirstSourceWinsInWhateverOrderTheWordsCome() {
    List<TagSource> order =
        List.of(
            TagSource.EDIT,
            TagSource.SHEET,
            TagSource.SIDECAR,
            TagSource.FOLDER,
            TagSource.FILE,
            TagSource.RECOGNISED,
            TagSource.DEFAULT);
    for (int strongest = 0; strongest < order.size(); strongest++) {
      List<TagWords> words = new ArrayList<>();
      for (TagSource s : order.subList(strongest, order.size())) words.add(says(s, "by " + s));
      Collections.shuffle(words, new Random(strongest));
      Held held = TagSettling.settle(words).held(TagName.UNIT).orElseThrow();
      assertThat(held.source()).isEqualTo(order.get(strongest));
      assertThat(held.value()).isEqualTo("by " + held.source());
      assertThat(held.origin()).isEqualTo(held.source().name());
    }
  }

  @Test
  void eachTagComesFromItsOwnSource() {
    Settled settled =
        TagSettling.settle(
            List.of(
                TagWords.ofWhole(
                    TagSource.FOLDER, Map.of(TagName.UNIT, "K1", TagName.FIRMWARE, "1.0"), ""),
                TagWords.ofWhole(TagSource.SHEET, Map.of(TagName.FIRMWARE, "1.1"), "")));
    assertThat(settled.value(TagName.UNIT)).contains("K1");
    assertThat(settled.value(TagName.FIRMWARE)).contains("1.1");
    assertThat(settled.value(TagName.GAIT)).isEmpty();
  }

  @Test
  void aPassKeepsItsOwnWordAndTakesTheRestFromTheWhole() {
    Settled settled =
        TagSettling.settle(
            List.of(
                new TagWords(1, TagSource.SHEET, Map.of(TagName.SHOWN, "0.27"), "row 2"),
                new TagWords(2, TagSource.SHEET, Map.of(TagName.SHOWN, "0.28"), "row 3"),
                TagWords.ofWhole(
                    TagSource.SHEET, Map.of(TagName.SHOWN, "0.55", TagName.GAIT, "walk"), "")));
    assertThat(settled.passes().get(1).get(TagName.SHOWN).value()).isEqualTo("0.27");
    assertThat(settled.passes().get(2).get(TagName.SHOWN).value()).isEqualTo("0.28");
    assertThat(settled.passes().get(2).get(TagName.GAIT).value()).isEqualTo("walk");
    assertThat(settled.passes().get(2).get(TagName.SHOWN).origin()).isEqualTo("row 3");
  }

  @Test
  void anEditOfTheWholeWinsOverTheSheetsWordAboutAPass() {
    Settled settled =
        TagSettling.settle(
            List.of(
                new TagWords(1, TagSource.SHEET, Map.of(TagName.UNIT, "K1"), ""),
                says(TagSource.EDIT, "K2")));
    assertThat(settled.value(TagName.UNIT)).contains("K2");
    assertThat(settled.passes().get(1).get(TagName.UNIT).value()).isEqualTo("K2");
  }

  @Test
  void whatTheSheetSaysOfThePassesHoldsForTheRecordingOverItsFolder() {
    Settled settled =
        TagSettling.settle(
            List.of(
                new TagWords(1, TagSource.SHEET, Map.of(TagName.UNIT, "K1"), ""),
                says(TagSource.FOLDER, "2026-05-12")));
    assertThat(settled.value(TagName.UNIT)).contains("K1");
  }

  @Test
  void anEmptyCellSaysNothing() {
    assertThat(TagSettling.settle(List.of(says(TagSource.EDIT, "  "))).value(TagName.UNIT))
        .isEmpty();
  }
}
