package milewarden.intake.tag;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import milewarden.track.TagName;
import org.junit.jupiter.api.Test;

final class GapWordsTest {
  private static Gap missing(TagName name) {
    return new Gap(name, Gap.Kind.MISSING, "");
  }

  @Test
  void whatIsMissingIsNamedAndWhereItCanBeSaid() {
    assertThat(GapWords.of(List.of(missing(TagName.FIRMWARE), missing(TagName.GAIT))))
        .contains("firmware and gait")
        .contains("by the folder's name");
  }

  @Test
  void noFolderSaysTheGait() {
    assertThat(GapWords.of(List.of(missing(TagName.GAIT))))
        .contains("session.csv")
        .doesNotContain("folder");
  }

  @Test
  void aWordOutsideTheVocabularyIsSaidWithTheWordsThatAre() {
    Gap odd = new Gap(TagName.CARRIAGE, Gap.Kind.NOT_UNDERSTOOD, "on the hat");
    assertThat(GapWords.of(List.of(odd))).contains("on the hat", "swing-left");
  }
}
