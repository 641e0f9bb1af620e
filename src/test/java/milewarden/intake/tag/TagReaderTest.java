package milewarden.intake.tag;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import milewarden.units.LengthUnit;
import milewarden.verdict.PassEvidence.Exclusion;
import org.junit.jupiter.api.Test;

final class TagReaderTest {
  private final Map<TagName, String> tags = new EnumMap<>(TagName.class);
  private final List<TagWords> more = new ArrayList<>();

  TagReaderTest() {
    tags.put(TagName.UNIT, "K1");
    tags.put(TagName.FIRMWARE, "2.10");
    tags.put(TagName.COURSE, "harbour-loop");
    tags.put(TagName.CARRIAGE, "Swing Left");
    tags.put(TagName.GAIT, "walk");
  }

  private TagReading read() {
    List<TagWords> words = new ArrayList<>(more);
    words.add(TagWords.ofWhole(TagSource.SHEET, tags, "session.csv, row 2"));
    return TagReader.read(TagSettling.settle(words));
  }

  private RunTags complete() {
    return read()
        .fold(
            TagReading.Complete::tags,
            i -> {
              throw new AssertionError(i.gaps());
            });
  }

  private List<Gap> gaps() {
    return read().fold(c -> List.of(), TagReading.Incomplete::gaps);
  }

  @Test
  void theFiveNeededTagsAreEnough() {
    RunTags run = complete();
    assertThat(run.unit()).isEqualTo("K1");
    assertThat(run.model()).isEqualTo("K1");
    assertThat(run.firmware()).isEqualTo("2.10");
    assertThat(run.carriage()).isEqualTo(Carriage.SWING_LEFT);
    assertThat(run.gait()).isEqualTo(Gait.WALK);
    assertThat(run.shown()).isEmpty();
  }

  @Test
  void justTheMissingOnesAreAskedFor() {
    tags.remove(TagName.FIRMWARE);
    tags.remove(TagName.GAIT);
    assertThat(gaps()).extracting(Gap::name).containsExactly(TagName.FIRMWARE, TagName.GAIT);
    assertThat(gaps()).extracting(Gap::kind).containsOnly(Gap.Kind.MISSING);
  }

  @Test
  void aWordOutsideTheVocabularyIsAskedForAgainWithTheWordsThatAre() {
    tags.put(TagName.CARRIAGE, "on the hat");
    assertThat(gaps())
        .containsExactly(new Gap(TagName.CARRIAGE, Gap.Kind.NOT_UNDERSTOOD, "on the hat"));
  }

  @Test
  void aShownDistanceTakesItsStepFromTheDigitsThatWereWritten() {
    tags.put(TagName.SHOWN, "0.270");
    tags.put(TagName.SHOWN_UNIT, "mi");
    assertThat(complete().shown())
        .containsExactly(new Reading(0.270, LengthUnit.MILE, 0.001, Rounding.UNKNOWN));
    tags.put(TagName.SHOWN_STEP, "0.01");
    tags.put(TagName.ROUNDING, "truncated");
    assertThat(complete().shown())
        .containsExactly(new Reading(0.270, LengthUnit.MILE, 0.01, Rounding.TRUNCATED));
  }

  @Test
  void aShownDistanceWithoutItsUnitIsAskedForNotGuessed() {
    tags.put(TagName.SHOWN, "0.27");
    assertThat(gaps()).containsExactly(new Gap(TagName.SHOWN_UNIT, Gap.Kind.MISSING, ""));
  }

  @Test
  void severalPassesOfOneFileGiveTheirReadingsInOrder() {
    tags.put(TagName.SHOWN_UNIT, "mi");
    more.add(new TagWords(2, TagSource.SHEET, Map.of(TagName.SHOWN, "0.28"), ""));
    more.add(new TagWords(1, TagSource.SHEET, Map.of(TagName.SHOWN, "0.27"), ""));
    assertThat(complete().shown()).extracting(Reading::value).containsExactly(0.27, 0.28);
  }

  @Test
  void aPassIsExcludedOnlyForAReasonFromTheList() {
    more.add(new TagWords(2, TagSource.SHEET, Map.of(TagName.EXCLUDED_REASON, "device fault"), ""));
    assertThat(complete().excluded())
        .containsExactly(Map.entry(2, new LeftOut(Exclusion.Reason.DEVICE_FAULT, TagSource.SHEET)));
    tags.put(TagName.EXCLUDED_REASON, "too far off");
    more.clear();
    assertThat(gaps()).extracting(Gap::name).containsExactly(TagName.EXCLUDED_REASON);
  }

  @Test
  void theModelThatAFileClaimsIsNotThatOfAUnitThatTheTesterNamed() {
    more.add(TagWords.ofWhole(TagSource.FILE, Map.of(TagName.MODEL, "Some exporter 3"), ""));
    assertThat(complete().model()).isEqualTo("K1");
    tags.put(TagName.MODEL, "Quorvane");
    assertThat(complete().model()).isEqualTo("Quorvane");
  }

  @Test
  void numbersThatAreNoneAreAskedForAgain() {
    tags.put(TagName.LAPS, "0");
    tags.put(TagName.SHOWN, "1e999");
    tags.put(TagName.SHOWN_UNIT, "km");
    tags.put(TagName.SHOWN_STEP, "-1");
    tags.put(TagName.DATE, "12.5.26");
    assertThat(gaps())
        .extracting(Gap::name)
        .containsExactly(TagName.LAPS, TagName.DATE, TagName.SHOWN, TagName.SHOWN_STEP);
  }
}
